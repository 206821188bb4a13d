using System.Text;
using Acquire.Instruments.Profiles;
using Acquire.Instruments.Simulation;
using Acquire.Instruments.Tests.Profiles;

namespace Acquire.Instruments.Tests.Simulation;

public sealed class SimulatedOrdersTests
{
    private static readonly ProfileCommands Commands = ShippedProfiles.Get("told-to-read").Commands;

    private static readonly ProfileCommands TwoSteps = Commands with
    {
        AfterOpening = [new(ByteText.Parse("<ESC>R"), TimeSpan.Zero), new(ByteText.Parse("ON<CR>"), TimeSpan.Zero)],
    };

    private static readonly string[] Pieces = ["\u001bR", "ON\r", "READ\r", "WHO\r", "REA", "\r", "x"];

    [Theory]
    [InlineData("\rREAD\r", "Trigger")]
    [InlineData("\rREAD\rWHO\rREAD\r", "Trigger Identify Trigger")]
    [InlineData("\r\rxREAD\r", "Trigger")]
    [InlineData("\rREAREAD\r", "Trigger")]
    [InlineData("\rREA\rREAD", "")]
    [InlineData("\rread\r", "")]
    public void Orders_are_found_among_other_bytes(string sent, string orders) => Assert.Equal(orders, Heard(Commands, [sent]));

    [Theory]
    [InlineData("READ\rWHO\r", "")]
    [InlineData("\u001bRREAD\r", "")]
    [InlineData("ON\r\u001bRREAD\r", "")]
    [InlineData("\u001bRON\rREAD\r", "Trigger")]
    [InlineData("READ\r\u001bRON\rWHO\r", "Identify")]
    public void Instrument_that_has_not_been_set_up_obeys_nothing(string sent, string orders) =>
        Assert.Equal(orders, Heard(TwoSteps, [sent]));

    [Fact]
    public void Orders_are_the_same_however_their_bytes_are_cut()
    {
        var text = Gen.OneOf(Pieces.Select(Gen.Const).ToArray()).Array[0, 20].Select(string.Concat);
        Gen.Select(text, Gen.Int[1, 7].Array[1, 60]).Sample((sent, cuts) =>
        {
            var pieces = new List<string>();
            for (var (at, i) = (0, 0); at < sent.Length; at += cuts[i++ % cuts.Length])
            {
                pieces.Add(sent.Substring(at, Math.Min(cuts[i % cuts.Length], sent.Length - at)));
            }

            Assert.Equal(sent, string.Concat(pieces));
            Assert.Equal(Heard(TwoSteps, [sent]), Heard(TwoSteps, pieces));
        });
    }

    [Fact]
    public void Noise_without_end_is_forgotten()
    {
        var heard = new HeardCommands(Commands);
        for (var i = 0; i < 100; i++)
        {
            Assert.Empty(heard.Take(new byte[4096]));
        }

        Assert.Equal([HeardOrder.Trigger], heard.Take("\rREAD\r"u8));
    }

    [Fact]
    public void Instrument_that_cannot_be_told_is_not_made_to_wait_for_it()
    {
        var options = new SimulatedDensitometerOptions { OnlyWhenTold = true };
        var fault = Assert.Throws<ArgumentException>(() => new SimulatedDensitometer(
            ShippedProfiles.Get("labelled-line"), FilmStories.OnAim, new RecordingPort(), options, TimeProvider.System));
        Assert.Contains("'labelled-line' has no trigger command", fault.Message, StringComparison.Ordinal);
    }

    private static string Heard(ProfileCommands commands, IEnumerable<string> pieces)
    {
        var heard = new HeardCommands(commands);
        return string.Join(' ', pieces.SelectMany(p => heard.Take(Encoding.Latin1.GetBytes(p))));
    }
}

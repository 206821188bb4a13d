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

    [Theory]
    [InlineData(0)]
    [InlineData(0.3)]
    [InlineData(1)]
    public async Task Orders_are_not_obeyed_as_often_as_asked_and_the_same_ones_for_the_same_seed(double deaf)
    {
        var obeyed = await ObeyedAsync(deaf);
        Assert.Equal(obeyed, await ObeyedAsync(deaf));

        // 1000 orders; four standard deviations of the binomial distribution.
        var allowed = 4 * Math.Sqrt(1000 * deaf * (1 - deaf));
        Assert.Equal(1000 * (1 - deaf), obeyed.Count(o => o), allowed + 1e-9);
    }

    [Fact]
    public void Instrument_that_cannot_be_told_is_not_made_to_wait_for_it()
    {
        var options = new SimulatedDensitometerOptions { OnlyWhenTold = true };
        var fault = Assert.Throws<ArgumentException>(() => new SimulatedDensitometer(
            ShippedProfiles.Get("labelled-line"), FilmStories.OnAim, new RecordingPort(), options, TimeProvider.System));
        Assert.Contains("'labelled-line' has no trigger command", fault.Message, StringComparison.Ordinal);
    }

    /// <summary>Which of a thousand triggers are obeyed, given one after another.</summary>
    private static async Task<bool[]> ObeyedAsync(double deaf)
    {
        await using var port = new OrderingPort("\r", "READ\r", 1000);
        var orders = new SimulatedOrders(Commands, port, deaf, new SeededChance(7, 0));
        var obeyed = new List<bool>();
        port.BeforeNext = () =>
        {
            obeyed.Add(orders.ToldAsync(CancellationToken.None).IsCompleted);
            orders.Begun();
        };
        await orders.ListenAsync(TestContext.Current.CancellationToken);
        return [.. obeyed.Skip(2)];
    }

    private static string Heard(ProfileCommands commands, IEnumerable<string> pieces)
    {
        var heard = new HeardCommands(commands);
        return string.Join(' ', pieces.SelectMany(p => heard.Take(Encoding.Latin1.GetBytes(p))));
    }

    /// <summary>A port over which the opening comes, then the same order so many times, then nothing more.</summary>
    private sealed class OrderingPort(string opening, string order, int times) : ISimulatedPort
    {
        private int _given = -1;

        public Action BeforeNext { get; set; } = () => { };

        public Instruments.Links.LinkAddress Address { get; } = new Instruments.Links.LinkAddress.Serial("ordering");

        public int Arrivals => 1;

        public Task WaitForListenerAsync(CancellationToken cancellationToken) => Task.CompletedTask;

        public ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancellationToken) => ValueTask.CompletedTask;

        public ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken)
        {
            BeforeNext();
            var text = ++_given == 0 ? opening : _given <= times ? order : "";
            return new(Encoding.Latin1.GetBytes(text, buffer.Span));
        }

        public ValueTask DisposeAsync() => ValueTask.CompletedTask;
    }
}

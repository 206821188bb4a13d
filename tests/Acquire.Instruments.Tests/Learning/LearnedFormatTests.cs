using System.Text;
using Acquire.Instruments.Learning;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Profiles;
using Acquire.Instruments.Simulation;
using Acquire.Instruments.Tests.Links;
using static Acquire.Instruments.Tests.Links.LinkFixture;

namespace Acquire.Instruments.Tests.Learning;

/// <summary>Profiles learned from rendered captures read what was rendered, directly and over a line. Formats are invented; the ways of
/// writing are common practice of serial instruments, no source.</summary>
public sealed class LearnedFormatTests
{
    private static readonly Dictionary<string, Func<int[], int, string>> Formats = new()
    {
        ["scaled"] = (v, _) => string.Join(' ', v.Select(n => Text($"{n:000}0"))),
        ["leaders"] = (v, _) => string.Join(';', v.Select((n, i) => "RGB"[i] + Point(n).PadLeft(9, '.'))),
        ["counter"] = (v, count) => Text($"{count % 1000:000}") + string.Join(' ', v.Select(Point)),
        ["one mark"] = (v, count) => Text($"{count},") + string.Join(',', v.Select(n => Point(n).Replace('.', ','))),
        ["twice"] = (v, _) => string.Join(' ', v.Select(n => $"{Point(n)} {Point(n)}")),
        ["letter"] = (v, _) => string.Join(' ', v.Select(n => Point(n) + (n < 40 ? "L" : n < 140 ? "M" : "H"))),
        ["exponent"] = (v, _) => string.Join(' ', v.Select(n => (n / 100m).ToString("0.00E+00", CultureInfo.InvariantCulture))),
        ["hexadecimal"] = (v, _) => string.Join(' ', v.Select(n => Text($"{n:X3}"))),
    };

    public static TheoryData<string> Names() => [.. Formats.Keys];

    [Theory]
    [MemberData(nameof(Names))]
    public void Learned_profile_reads_every_rendered_line_as_it_was(string name) =>
        Gen.Int[0, 399].Array[3].Array[12].Where(r => r.Take(4).SelectMany(v => v).Distinct().Count() == 12).Sample(
            readings =>
            {
                // Three light, middle and dark patches, so that all letters show.
                int[][] captured = [[21, 33, 36], [52, 76, 128], [150, 171, 242], .. readings.Take(1)];
                if (ProfileLearner.Learn(Input(name, captured)) is LearningResult.Learned { Profile: var profile })
                {
                    var count = 40;
                    Assert.All(readings, v => Assert.Equal(Shown(v), Read(profile, Formats[name](v, ++count))));
                }
                else
                {
                    Assert.Fail("Declined.");
                }
            },
            iter: 20);

    [Theory]
    [MemberData(nameof(Names))]
    public async Task Learned_profile_reads_what_an_instrument_of_it_sends(string name)
    {
        var profile = Assert.IsType<LearningResult.Learned>(
            ProfileLearner.Learn(Input(name, [[21, 33, 36], [52, 76, 128], [150, 171, 242]]))).Profile;
        await using var fixture = new LinkFixture();
        await using var link = await fixture.OpenAsync(profile.Link);
        var options = new SimulatedDensitometerOptions
        {
            ReadsPerPatch = 1, Strips = 1, BeforeFirst = TimeSpan.Zero, BetweenReadings = TimeSpan.Zero, BetweenStrips = TimeSpan.Zero,
        };
        var sent = new Simulation.ReadingList();
        var running =
            new SimulatedDensitometer(profile, FilmStories.OnAim, fixture.Terminal, options, TimeProvider.System).RunAsync(sent, Token);

        List<Reading> received = [];
        await foreach (var happened in InstrumentReader.ReadAllAsync(link, profile, TimeProvider.System, Token))
        {
            received.Add(Assert.IsType<InstrumentEvent.ReadingTaken>(happened).Reading);
            if (received.Count == FilmStories.OnAim.Patches.Length)
            {
                break;
            }
        }

        await running;
        Assert.All(
            sent.All.Zip(received),
            p => Assert.All(Channels.Colours, c => Assert.Equal(p.First.Densities[c]!.Value, p.Second.Densities[c]!.Value)));
    }

    private static LearningInput Input(string name, int[][] readings) => new(
        Encoding.ASCII.GetBytes(string.Concat(readings.Select((v, i) => Formats[name](v, i + 7) + "\r\n"))),
        [.. readings.Select(v => ShownReading.Parse(string.Join(' ', v.Select(Point)), 3))],
        Channels.Colours);

    private static string Read(DeviceProfile profile, string line) =>
        new LineInterpreter(profile).Interpret(RawLine.OfText(line, DateTimeOffset.UnixEpoch)) is InstrumentEvent.ReadingTaken taken
            ? taken.Reading.Densities.ToString()
            : $"'{line}' was refused.";

    private static string Shown(int[] v) => $"R {Point(v[0])} G {Point(v[1])} B {Point(v[2])}";

    private static string Point(int hundredths) => (hundredths / 100m).ToString("0.00", CultureInfo.InvariantCulture);

    private static string Text(FormattableString text) => FormattableString.Invariant(text);
}

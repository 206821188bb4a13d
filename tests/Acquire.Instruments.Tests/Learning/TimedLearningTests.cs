using System.Numerics;
using System.Text;
using Acquire.Instruments.Captures;
using Acquire.Instruments.Learning;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Links;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Tests.Learning;

/// <summary>
/// Learning from bytes with times. Formats are invented; the variations are common practice of serial instruments, no source.
/// </summary>
public class TimedLearningTests
{
    private static readonly ImmutableArray<Channel> Rgb = [Channel.Red, Channel.Green, Channel.Blue];
    private static readonly DateTimeOffset Start = new(2026, 11, 25, 18, 40, 0, TimeSpan.Zero);

    [Fact]
    public void Lines_that_only_a_pause_ends_are_read_again_as_shown_however_they_were_cut() =>
        Gen.Select(
            Gen.Int[0, 499].Array[3].Array[3],
            Gen.OneOf(Gen.Const("R {0} G {1} B {2}"), Gen.Const("{0} {1} {2}"), Gen.Const("T{2};{1};{0}")),
            Gen.Int[1, 9],
            Gen.Int[0, 30],
            Gen.Int[400, 9000])
            .Where((readings, _, _, _, _) => readings.Select(r => string.Join(' ', r)).Distinct().Count() == 3
                && readings.All(r => r.Distinct().Count() == 3) && readings.SelectMany(r => r).Distinct().Count() == 9)
            .Sample((readings, shape, size, within, between) =>
            {
                var texts =
                    readings.Select(r => (string[])[.. r.Select(v => (v / 100m).ToString("0.00", CultureInfo.InvariantCulture))]).ToList();
                var chunks = Chunks(texts.Select(t => string.Format(null, shape, [.. t])), size, within, between);

                if (Learn(chunks, texts.Select(t => string.Join(' ', t))) is LearningResult.Learned { Profile: var profile })
                {
                    Assert.InRange(profile.Framing.IdleGap!.Value.TotalMilliseconds, within, between - 1);
                    var capture = new Instruments.Captures.Capture(CaptureKind.Timed, null, null, null, chunks, null);
                    var read = CaptureReplay.ReadAllAsync(capture, profile, null, CancellationToken.None).ToBlockingEnumerable()
                        .Select(e => Assert.IsType<InstrumentEvent.ReadingTaken>(e).Reading.Densities.ToString());
                    Assert.Equal(texts.Select(t => $"R {t[0]} G {t[1]} B {t[2]}"), read);
                }
                else
                {
                    Assert.Fail("Declined.");
                }
            });

    [Fact]
    public void Bytes_without_times_stay_declined()
    {
        var learned = ProfileLearner.Learn(
            new LearningInput("0.26 0.62 0.801.26 1.74 2.01"u8.ToArray(), Shown(["0.26 0.62 0.80", "1.26 1.74 2.01"]), Rgb));

        Assert.Contains("ends a line", Assert.IsType<LearningResult.Declined>(learned).Reasons[0], StringComparison.Ordinal);
    }

    [Fact]
    public void Reasons_speak_of_the_lines_that_pauses_cut()
    {
        var learned = Learn(Chunks(["0.26 0.62 0.80", "1.26 1.74 2.01"], 4, 5, 3000), ["0.26 0.62 0.80", "1.26 1.74 2.10"]);

        Assert.Contains("2.10", Assert.IsType<LearningResult.Declined>(learned).Reasons[0], StringComparison.Ordinal);
    }

    [Fact]
    public void Line_ends_are_enough_where_they_end_every_line()
    {
        var learned = Assert.IsType<LearningResult.Learned>(
            Learn(Chunks(["0.26 0.62 0.80\r\n", "1.26 1.74 2.01\r\n"], 4, 5, 3000), ["0.26 0.62 0.80", "1.26 1.74 2.01"]));

        Assert.Null(learned.Profile.Framing.IdleGap);
        Assert.Equal(LineEnd.Any, learned.Profile.Framing.LineEnd);
    }

    [Theory]
    [InlineData("2400 8N1", 0, "2400 7E1")]
    [InlineData("2400 8N1", 1, "2400 7O1")]
    [InlineData("300 8N2", null, "300 8N2")]
    [InlineData("4800 7E1", null, "4800 7E1")]
    [InlineData(null, 0, "9600 8N1")]
    [InlineData(null, null, "9600 8N1")]
    public void Line_settings_are_those_in_force_with_the_parity_that_shows(string? known, int? parity, string learned)
    {
        var chunks = Chunks(["0.26 0.62 0.80\r\n", "1.26 1.74 2.01\r\n"], 5, 3, 2000);
        chunks = parity is { } odd
            ? [.. chunks.Select(
                c => c with { Bytes = [.. c.Bytes.Select(b => (byte)(b | (((BitOperations.PopCount(b) & 1) ^ odd) << 7)))] })]
            : chunks;

        var profile =
            Assert.IsType<LearningResult.Learned>(Learn(chunks, ["0.26 0.62 0.80", "1.26 1.74 2.01"], LinkWords.TryParse(known))).Profile;

        Assert.Equal(learned, LinkWords.Of(profile.Link));
        Assert.Equal(parity is not null, profile.Link.MaskTopBit);
        Assert.Equal(known is null, profile.Description.Contains("rate is not known", StringComparison.Ordinal));
    }

    private static LearningResult Learn(IEnumerable<CaptureChunk> chunks, IEnumerable<string> shown, LinkSettings? link = null) =>
        ProfileLearner.Learn(LearningInput.Timed(chunks, link, Shown(shown), Rgb, "learned"));

    private static ImmutableArray<ShownReading> Shown(IEnumerable<string> shown) => [.. shown.Select(s => ShownReading.Parse(s, 3))];

    private static ImmutableArray<CaptureChunk> Chunks(IEnumerable<string> lines, int size, int within, int between)
    {
        var at = Start;
        var chunks = ImmutableArray.CreateBuilder<CaptureChunk>();
        foreach (var line in lines)
        {
            foreach (var piece in Encoding.ASCII.GetBytes(line).Chunk(size))
            {
                chunks.Add(new CaptureChunk(at, [.. piece]));
                at += TimeSpan.FromMilliseconds(within);
            }

            at += TimeSpan.FromMilliseconds(between - within);
        }

        return chunks.ToImmutable();
    }
}

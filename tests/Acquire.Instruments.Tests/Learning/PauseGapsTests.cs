using Acquire.Instruments.Captures;
using Acquire.Instruments.Learning;

namespace Acquire.Instruments.Tests.Learning;

public class PauseGapsTests
{
    [Fact]
    public void Every_pause_lies_clearly_between_those_that_were_seen() =>
        Gen.Double[0, 4].Select(e => TimeSpan.FromMilliseconds(Math.Pow(10, e))).Array[0, 30].Sample(pauses =>
        {
            foreach (var gap in PauseGaps.Of(Chunks(pauses)))
            {
                var shorter = pauses.Where(p => p <= gap).DefaultIfEmpty().Max();
                var longer = pauses.Where(p => p > gap).Min();
                Assert.True(longer >= 3 * shorter, $"{gap} between {shorter} and {longer}");
                Assert.InRange(gap, TimeSpan.FromMilliseconds(20), TimeSpan.FromSeconds(60));
                Assert.True(gap < longer && gap > 1.3 * shorter);
            }
        });

    [Theory]
    [InlineData(244, 1, 3, 3000, 2, 8, 2900)]
    [InlineData(1000, 16, 16, 60_000, 5)]
    public void Clearest_pause_comes_first(int gap, params int[] pauses) =>
        Assert.Equal(gap, PauseGaps.Of(Chunks(pauses.Select(p => TimeSpan.FromMilliseconds(p))))[0].TotalMilliseconds, 5.0);

    [Fact]
    public void Pause_between_readings_is_tried_after_that_between_their_parts()
    {
        int[] pauses = [900, 5000, 880, 5000];
        Assert.Equal([132, 1800], PauseGaps.Of(Chunks(pauses.Select(p => TimeSpan.FromMilliseconds(p)))).Select(g => g.TotalMilliseconds));
    }

    [Theory]
    [InlineData]
    [InlineData(1, 2, 3)]
    [InlineData(100, 120, 150, 90, 60, 30)]
    public void Pauses_that_are_all_alike_end_no_line(params int[] pauses) =>
        Assert.Empty(PauseGaps.Of(Chunks(pauses.Select(p => TimeSpan.FromMilliseconds(p)))));

    private static ImmutableArray<CaptureChunk> Chunks(IEnumerable<TimeSpan> pauses)
    {
        var at = new DateTimeOffset(2026, 11, 25, 18, 40, 0, TimeSpan.Zero);
        return [new CaptureChunk(at, [0x30]), .. pauses.Select(p => new CaptureChunk(at += p, [0x30]))];
    }
}

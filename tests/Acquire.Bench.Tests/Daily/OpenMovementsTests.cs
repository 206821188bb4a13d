using Acquire.Analysis.Control;
using Acquire.Analysis.Judgement;
using Acquire.Analysis.Statistics;
using Acquire.Bench.Daily;
using Acquire.Formats.ProcessSheets;

namespace Acquire.Bench.Tests.Daily;

public class OpenMovementsTests
{
    private static readonly DifferenceParameter Contrast =
        ShippedSheets.Get("c41").Parameters.OfType<DifferenceParameter>().First(p => p.Limits.Action is { Lower: < 0 });

    [Fact]
    public void Jump_that_still_stands_is_open() =>
        Assert.Equal(DriftShape.Jump, Assert.Single(Open(Levels(0, 12), Levels(0.09, 6))).Shape);

    [Fact]
    public void Jump_back_to_aim_is_no_open_movement() => Assert.Empty(Open(Levels(0.09, 12), Levels(0, 6)));

    private static ImmutableArray<DriftFinding> Open(params IEnumerable<double>[] levels)
    {
        var strips = levels.SelectMany(l => l).Select((level, i) => new StripPoint
        {
            StripId = Guid.CreateVersion7(Some.Moment.AddDays(i)),
            At = Some.Moment.AddDays(i),
            Lot = "2417",
            Judgement = new StripJudgement(
                [new ParameterResult {
                    Parameter = Contrast,
                    Channel = Channel.Green,
                    Deviation = level + (0.004 * ((i * 7 % 5) - 2)),
                    StandardUncertainty = 0.005 }],
                ImmutableDictionary<Channel, PooledDeviation>.Empty),
        }).ToList();
        return OpenMovements.Of(strips, key => key, strips[^1].At.AddHours(1));
    }

    private static IEnumerable<double> Levels(double level, int count) => Enumerable.Repeat(level, count);
}

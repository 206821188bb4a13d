using Acquire.Analysis.Control;
using Acquire.Analysis.Judgement;
using Acquire.Analysis.Tests.Statistics;

namespace Acquire.Analysis.Tests.Drift;

/// <summary>Invented histories: a strip a day in the evening class's dip tank.</summary>
internal static class Histories
{
    public static readonly DateTimeOffset Start = new(2026, 1, 1, 19, 0, 0, TimeSpan.Zero);

    public static ImmutableArray<SeriesEntry> Series(IEnumerable<double> deviations, Func<int, string>? lotOf = null, double u = 0.004) =>
    [
        .. deviations.Select((d, i) => new SeriesEntry(
            new StripPoint
            {
                StripId = new Guid(i, 0, 0, new byte[8]),
                At = Start.AddDays(i),
                Lot = lotOf?.Invoke(i) ?? "2417",
                Judgement = new StripJudgement([], ImmutableDictionary<Channel, Acquire.Analysis.Statistics.PooledDeviation>.Empty),
            },
            d,
            u)),
    ];

    public static double[] Scatter(int count, double sigma, int seed, Func<int, double>? shift = null)
    {
        var random = new Random(seed);
        return [.. Enumerable.Range(0, count).Select(i => (sigma * random.Normal()) + (shift?.Invoke(i) ?? 0))];
    }
}

using System.Diagnostics;
using TruthBenchmark.Product;
using TruthBenchmark.World;

namespace TruthBenchmark.Claims.Cost;

/// <summary>
/// The cost of a history on one core: it must be linear in the strips, whatever the machine. The ratio to a short history counts; its
/// standard error is that of timing beside other work (judgement).
/// </summary>
internal sealed class CostClaims : IClaims
{
    private const double Timing = 0.25;
    private const int PerBottle = 20;

    public string Name => "cost";

    public IEnumerable<Claim> Of(Run run)
    {
        var counts = run.Short ? new[] { 200, 400, 800 } : [500, 2000, 8000];
        var parts = new (string Id, string What, Action<Desk> Work)[]
        {
            ("judge", "judging", desk => desk.Points()),
            ("drift", "movements", desk => DriftSaid.Of(desk)),
            ("life", "life", desk => LifeSaid.Of(desk)),
        };
        var first = new Dictionary<string, double>();
        foreach (var count in counts)
        {
            var desk =
                new Desk(new AgeingStory(Ageing.Straight(60), count / PerBottle, Days).House(new Dice(run.Seed + 95)), history: true);
            foreach (var (id, what, work) in parts)
            {
                var watch = Stopwatch.StartNew();
                work(desk);
                var cost = watch.Elapsed.TotalMicroseconds / count;
                if (first.TryAdd(id, cost))
                {
                    yield return new Claim($"c-{id}-{count}", $"{what} of {count} strips: µs a strip", Band.Shown, cost, double.NaN, 1);
                }
                else
                {
                    yield return new Claim(
                        $"c-{id}-{count}",
                        $"{what} of {count} strips: cost a strip over that at {counts[0]}", Band.AtMost(1.5), cost / first[id], Timing, 1);
                }
            }
        }
    }

    private static ImmutableArray<double> Days { get; } = [.. Enumerable.Range(0, PerBottle).Select(i => 1.0 + i)];
}

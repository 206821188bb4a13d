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
    // Always as many: what the books cost grows with their entries, and that is another question.
    private const int Bottles = 5;

    public string Name => "cost";

    public IEnumerable<Claim> Of(Run run)
    {
        var counts = run.Short ? new[] { 150, 300, 600 } : [500, 2000, 8000];
        var first = new Dictionary<string, double>();
        foreach (var count in counts)
        {
            var house = new AgeingStory(Ageing.Straight(60), Bottles, Days(count / Bottles)).House(new Dice(run.Seed + 95));
            var desk = new Desk(house, history: true);
            (string Id, string What, Action Work)[] parts =
            [
                ("judge", "judging", () => new Desk(house, history: true).Points()),
                ("drift", "movements", () => DriftSaid.Of(desk)),
                ("life", "life", () => LifeSaid.Of(desk)),
            ];
            foreach (var (id, what, work) in parts)
            {
                var cost = Best(work) / count;
                yield return first.TryAdd(id, cost)
                    ? new Claim($"c-{id}-{count}", $"{what} of {count} strips: µs a strip", Band.Shown, cost, double.NaN, 1)
                    : new Claim(
                        $"c-{id}-{count}",
                        $"{what} of {count} strips: cost a strip over that at {counts[0]}", Band.AtMost(1.5), cost / first[id], Timing, 1);
            }
        }
    }

    private static ImmutableArray<double> Days(int strips) => [.. Enumerable.Range(0, strips).Select(i => 1 + (28.0 * i / strips))];

    /// <summary>The shortest of several, in microseconds: other work on the machine only ever adds.</summary>
    private static double Best(Action work) => Enumerable.Range(0, 4).Min(_ =>
    {
        var watch = Stopwatch.StartNew();
        work();
        return watch.Elapsed.TotalMicroseconds;
    });
}

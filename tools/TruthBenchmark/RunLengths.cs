using Acquire.Analysis.Control;
using Acquire.Instruments.Simulation;

namespace TruthBenchmark;

/// <summary>
/// How long each detector stays silent in control, by simulation against published run lengths: Shewhart 370.4; cumulative sums k = 0.5, h
/// = 4 and 5: 168 and 465 (Montgomery, from Lucas 1976); moving average λ = 0.2, L = 3: 559.9 (Lucas and Saccucci 1990, from memory);
/// Western Electric rules 1 to 4: 91.75 (Champ and Woodall 1987, from memory).
/// </summary>
internal static class RunLengths
{
    public static void Print(int trials, int seed)
    {
        Table.Title($"Run length in control, {trials} runs each, seed {seed}");
        Table.Row("detector", "published", "simulated", "± s.e.", "ratio");
        Row("one point beyond 3 sigma", 370.4, trials, seed, () => Rules([RunRule.BeyondThreeSigma]));
        Row("Western Electric rules 1 to 4", 91.75, trials, seed + 1, () => Rules(RunRuleSets.WesternElectric));
        Row("cumulative sums, k 0.5, h 4", 168, trials, seed + 2, () => Sums(4));
        Row("cumulative sums, k 0.5, h 5", 465, trials, seed + 3, () => Sums(5));
        Row("moving average, λ 0.2, 3 sigma", 559.9, trials, seed + 4, Average);
        Table.Title("After a shift of one sigma");
        Row("cumulative sums, k 0.5, h 4", 8.38, trials, seed + 5, () => Sums(4), 1);
        Row("cumulative sums, k 0.5, h 5", 10.4, trials, seed + 6, () => Sums(5), 1);
    }

    private static void Row(string name, double published, int trials, int seed, Func<Func<double, bool>> detector, double shift = 0)
    {
        var lengths = new double[trials];
        Parallel.For(0, trials, i =>
        {
            var (chance, rings, n) = (new SeededChance(seed, i), detector(), 1);
            while (!rings(chance.Next(1) + shift))
            {
                n++;
            }

            lengths[i] = n;
        });
        var mean = lengths.Average();
        var error = Math.Sqrt(lengths.Sum(l => (l - mean) * (l - mean)) / (trials - 1.0) / trials);
        Table.Row(name, published, mean, error, mean / published);
    }

    /// <summary>
    /// A pattern whose last point is back inside does not ring anew: it rang when it came about, so the first ring is the same.
    /// </summary>
    private static Func<double, bool> Rules(ImmutableArray<RunRule> rules)
    {
        var state = default(RunRuleState);
        return z =>
        {
            state = state.Next(z);
            return rules.Any(state.Breaks);
        };
    }

    private static Func<double, bool> Sums(double decision)
    {
        var cusum = new Cusum(0, 0.5, decision);
        var point = CusumPoint.Start;
        return z => (point = cusum.Next(point, z)).Signal != Side.Neither;
    }

    private static Func<double, bool> Average()
    {
        // The published length is that of limits that are wide from the start.
        var ewma = new Ewma(0, 1);
        var point = ewma.Start;
        return z => Math.Abs((point = ewma.Next(point, z)).Value) > ewma.FinalHalfWidth;
    }
}

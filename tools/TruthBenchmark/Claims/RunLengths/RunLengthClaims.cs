using Acquire.Analysis.Control;
using TruthBenchmark.World;

namespace TruthBenchmark.Claims.RunLengths;

/// <summary>
/// How long each detector stays silent, against published run lengths, as a share of them: Shewhart 370.4; cumulative sums k = 0.5, h = 4
/// and 5: 168 and 465, after a shift of one sigma 8.38 and 10.4 (Montgomery, from Lucas 1976); moving average λ = 0.2, L = 3: 559.9 (Lucas
/// and Saccucci 1990, from memory); Western Electric rules 1 to 4: 91.75 (Champ and Woodall 1987, from memory).
/// </summary>
internal sealed class RunLengthClaims : IClaims
{
    public string Name => "runlengths";

    public IEnumerable<Claim> Of(Run run) =>
    [
        Row("one", "one point beyond 3 sigma", 370.4, run, () => Rules([RunRule.BeyondThreeSigma])),
        Row("western", "Western Electric rules 1 to 4", 91.75, run, () => Rules(RunRuleSets.WesternElectric)),
        Row("sums-4", "cumulative sums, k 0.5, h 4", 168, run, () => Sums(4)),
        Row("sums-5", "cumulative sums, k 0.5, h 5", 465, run, () => Sums(5)),
        Row("average", "moving average, λ 0.2, 3 sigma", 559.9, run, Average),
        Row("sums-4-shift", "cumulative sums, h 4, after a shift of one sigma", 8.38, run, () => Sums(4), 1),
        Row("sums-5-shift", "cumulative sums, h 5, after a shift of one sigma", 10.4, run, () => Sums(5), 1),
    ];

    private static Claim Row(string id, string name, double published, Run run, Func<Func<double, bool>> detector, double shift = 0)
    {
        var found = Tally.Of(run.Draws(5000, 1000), i =>
        {
            var (dice, rings, n) = (new Dice(run.Seed + 90, i), detector(), 1);
            while (!rings(dice.Bell() + shift))
            {
                n++;
            }

            return [n / published];
        });
        return found[0].Claim($"r-{id}", $"{name}: run length over the published", Band.Between(0.98, 1.02));
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

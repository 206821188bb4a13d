using Acquire.Analysis.Uncertainty;
using TruthBenchmark.Product;
using TruthBenchmark.World;

namespace TruthBenchmark.Claims.Verdicts;

/// <summary>The spread of three uncertain colours: the range of noise is no spread.</summary>
internal static class Spreads
{
    private const double Control = 0.09;

    public static IEnumerable<Claim> Of(Run run)
    {
        var bench = new ReadingStory(Densitometer.Even(0.006), AimStory.ReadOnce) { Tested = true };
        foreach (var truth in new[] { 0, 0.05, Control })
        {
            var found = Tally.Of(run.Draws(3000, 300), i =>
            {
                var dice = new Dice(run.Seed + 8, i);
                var desk = new Desk(bench.House(dice, Placed.Spread(dice, truth)));
                var said = VerdictsSaid.Of(desk, 0).Single(s => s.Key == "spread");
                return [said.Deviation - truth, said.Holds(truth) ? 1 : 0, said.Verdict == Verdict.OutOfControl ? 1 : 0];
            });
            var what = FormattableString.Invariant($"spread truly {truth:0.00}");
            // An estimate that cannot fall below 0 cannot be free of bias at 0; half of what noise makes of it now would be.
            yield return found[0].Claim(
                $"v6-spread-{truth * 100:0}-bias",
                $"{what}: estimate less truth", truth == 0 ? Band.Between(-0.006, 0.006) : Band.Between(-0.003, 0.003));
            yield return found[1].Claim(
                $"v6-spread-{truth * 100:0}-held", $"{what}: interval holds", truth == 0 ? Band.AtLeast(0.93) : Band.Between(0.93, 0.98));
            if (truth == Control)
            {
                yield return found[2].Claim("v6-spread-out", "spread truly on its limit: called out", Band.AtMost(0.05));
            }
        }
    }
}

using Acquire.Analysis.Uncertainty;
using TruthBenchmark.Product;
using TruthBenchmark.World;

namespace TruthBenchmark.Claims.Verdicts;

/// <summary>The sentence on the strip as a whole.</summary>
internal static class WholeStrips
{
    public static IEnumerable<Claim> Of(Run run)
    {
        var bench = new ReadingStory(Densitometer.Even(0.006), AimStory.ReadOnce) { Tested = true };
        var found = Tally.Of(run.Draws(3000, 300), i =>
        {
            var dice = new Dice(run.Seed + 7, i);
            var beyond = Placed.AtLimits(dice, 0);
            var colour = dice.Below(3);
            beyond = beyond.With(Cells.Low, colour, 0.0801).With(Cells.High, colour, 0.0801);
            return
            [
                Is(Verdict.OutOfControl, Placed.Whole(dice, 0.97)),
                Is(Verdict.InControl, beyond),
                Is(Verdict.InControl, Cells.None),
            ];

            double Is(Verdict verdict, Cells deviation) =>
                VerdictsSaid.Whole(new Desk(bench.House(dice, deviation)), 0) == verdict ? 1 : 0;
        });
        yield return found[0].Claim("v6-whole-out", "strip with all truths at 97 % of their limits: called out", Band.AtMost(0.05));
        yield return found[1].Claim("v6-whole-in", "strip with one truth just past its limit: called in control", Band.AtMost(0.05));
        yield return found[2].Claim("v6-whole-aim", "strip on aim: called in control", Band.AtLeast(0.90));
    }
}

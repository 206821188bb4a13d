using TruthBenchmark.Product;
using TruthBenchmark.World;

namespace TruthBenchmark.Claims.Drift;

/// <summary>How long it takes until a movement is told: what the promise of few false ones costs.</summary>
internal static class Delays
{
    private const int Before = 20;
    private const int After = 30;

    public static IEnumerable<Claim> Of(Run run)
    {
        foreach (var (way, happens) in new (string, Func<Cells, double, Func<int, Cells>>)[]
        {
            ("step", (d, limits) => Movements.Step(d, limits, Before)),
            ("ramp", (d, limits) => Movements.Ramp(d, limits, Before)),
        })
        {
            foreach (var limits in new[] { 0.5, 1.0, 2.0 })
            {
                var found = Tally.Of(run.Draws(600, 20), i =>
                {
                    var dice = new Dice(run.Seed + 23, i);
                    var story = new HistoryStory(Before + After, DriftClaims.Usual(0.3))
                    {
                        Happens = happens(Movements.Direction(dice), limits),
                    };
                    var told = DriftSaid.Of(new Desk(story.House(dice), history: true)).Moved
                        .Where(m => m.Noticed >= Before && m.Way != Way.OneStrip)
                        .ToList();
                    return [told.Count > 0 ? 1 : 0, told.Count > 0 ? told.Min(m => m.Noticed) - Before + 1 : double.NaN];
                });
                var what = FormattableString.Invariant($"{way} of {limits:0.0} action limits{(way == "ramp" ? " in 30 strips" : "")}");
                // Ours: a promise of few false alarms is easily kept by one that never rings.
                var told = limits == 2 ? Band.AtLeast(0.90) : Band.Shown;
                yield return found[0].Claim($"d7-{way}-{limits * 10:0}-told", $"{what}: told within 30 strips", told);
                yield return found[1].Claim($"d7-{way}-{limits * 10:0}-delay", $"{what}: strips until told, mean", Band.Shown);
                yield return new Claim(
                    $"d7-{way}-{limits * 10:0}-90",
                    $"{what}: strips until nine in ten of the told are", Band.Shown, found[1].Quantile(0.9), double.NaN, found[1].Count);
            }
        }
    }
}

using TruthBenchmark.Product;
using TruthBenchmark.World;

namespace TruthBenchmark.Claims.Drift;

/// <summary>When a movement that is told began, and whether it is called what it was.</summary>
internal static class Beginnings
{
    private const int Strips = 60;
    private const int At = 25;

    public static IEnumerable<Claim> Of(Run run)
    {
        foreach (var limits in new[] { 1.0, 2.0 })
        {
            var found = Told(run, d => Movements.Ramp(d, limits, At));
            var what = FormattableString.Invariant($"ramp of {limits:0} action limits in 30 strips");
            yield return found[0].Claim($"d7-ramp-{limits:0}-date", $"{what}, told: the days given hold its beginning", Band.AtLeast(0.90));
            yield return found[1].Claim($"d7-ramp-{limits:0}-late", $"{what}, told: strips dated late, mean", Band.Shown);
            yield return found[2].Claim($"d7-ramp-{limits:0}-way", $"{what}, told: called little by little", Band.Shown);
        }

        foreach (var limits in new[] { 0.5, 1.0 })
        {
            var found = Told(run, d => Movements.Step(d, limits, At));
            var what = FormattableString.Invariant($"step of {limits:0.0} action limits (about {0.07 * limits / 0.02:0.0} s)");
            yield return found[0].Claim($"d7-step-{limits * 10:0}-date", $"{what}, told: the days given hold it", Band.AtLeast(0.90));
            yield return found[2].Claim($"d7-step-{limits * 10:0}-way", $"{what}, told: called little by little", Band.AtMost(0.10));
        }
    }

    // The clearest movement after the beginning: of LD or contrast, as those truly move.
    private static ImmutableArray<Tally> Told(Run run, Func<Cells, Func<int, Cells>> happens) => Tally.Of(run.Draws(800, 40), i =>
    {
        var dice = new Dice(run.Seed + 22, i);
        var story = new HistoryStory(Strips, DriftClaims.Usual(0)) { Happens = happens(Movements.Direction(dice)) };
        var told = DriftSaid.Of(new Desk(story.House(dice), history: true)).Moved
            .Where(m => m.Noticed >= At && m.Way != Way.OneStrip && m.Key is "ld" or "contrast")
            .OrderBy(m => m.Noticed)
            .FirstOrDefault();
        return told is null
            ? [double.NaN, double.NaN, double.NaN]
            : [told.Earliest <= At && told.Latest >= At ? 1 : 0, told.Began - At, told.Way == Way.LittleByLittle ? 1 : 0];
    });
}

using TruthBenchmark.Product;
using TruthBenchmark.World;

namespace TruthBenchmark.Claims.Life;

/// <summary>What moves with the days and is not the developer's ageing.</summary>
internal static class OtherStories
{
    private static readonly ImmutableArray<double> Days = [1, 6, 12, 18, 24, 29];

    public static IEnumerable<Claim> Of(Run run)
    {
        var draws = run.Draws(1000, 30);
        // A bleach that dies: silver stays in the dark patches.
        var silver = Cells.Of((p, _) => p switch { Cells.DMax => 0.14, Cells.Yellow => 0.03, Cells.High => 0.02, _ => 0 });
        var bleach = LifeClaims.Say(run, 43, draws, _ => new AgeingStory(Ageing.Straight(26), 4, Days) { Instead = silver },
            (said, _) => [said.Kind == LifeKind.Named && said.Parameter == "silver" ? 1 : 0]);
        yield return bleach[0].Claim("l8-bleach", "the bleach dies, developer's life asked: named by retained silver", Band.AtMost(0.05));

        var paler = Cells.Of((p, _) => p == Cells.DMin ? -0.03 : 0);
        var away = LifeClaims.Say(run, 44, draws, _ => new AgeingStory(Ageing.Straight(30), 4, Days) { Instead = paler },
            (said, _) => [said.Changed.Contains("way to its action limit", StringComparison.Ordinal)
                && said.Changed.Contains("D-min", StringComparison.Ordinal) ? 1 : 0]);
        yield return away[0].Claim(
            "l8-away", "D-min falls, its limit is above: told as a share of the way to the limit", Band.AtMost(0.05));

        // Everything in one bottle, and half way through it the method changes.
        var jump = LifeClaims.Say(run, 45, draws, d => new AgeingStory(Ageing.None, 1, [1, 4, 7, 10, 13, 16, 19, 22, 25, 28])
        {
            Unrecorded = (5 + d.Below(2), 0.8),
        }, (said, _) => [said.Kind != LifeKind.Named ? double.NaN
            : said.Doubts.Contains("at once", StringComparison.Ordinal) || said.Doubts.Contains("jump", StringComparison.OrdinalIgnoreCase)
                ? 1
                : 0,
            said.Kind == LifeKind.Named ? 1 : 0]);
        yield return jump[0].Claim(
            "l8-jump", "method changed unrecorded, a life is named: the jump is offered as the other explanation", Band.AtLeast(0.80));
        yield return jump[1].Claim("l8-jump-named", "method changed unrecorded, no ageing: a life is named", Band.Shown);
        var few = LifeClaims.Say(run, 46, draws, _ => new AgeingStory(Ageing.Straight(30), 1, [1, 9, 18, 27])
        {
            Aims = AimStory.Typed(1),
            Between = 0,
        }, (said, _) => [said.Kind == LifeKind.Crashed ? 1 : 0]);
        yield return few[0].Claim("l8-four", "four strips of one bottle, read once: ends with a fault of the program", Band.Never);
    }
}

using TruthBenchmark.Product;
using TruthBenchmark.World;

namespace TruthBenchmark.Claims.Causes;

/// <summary>Whether what is said with a probability comes true as often, tenth by tenth, over what a year brings.</summary>
internal static class Calibration
{
    private const int Few = 20;

    public static IEnumerable<Claim> Of(Run run)
    {
        var draws = run.Draws(8000, 800);
        var said = new (CausesSaid Said, ImmutableArray<string> Right)[draws];
        Parallel.For(0, draws, i =>
        {
            var story = CauseStory.Any(new Dice(run.Seed + 80, i));
            said[i] = (CausesSaid.Of(story.Papers), CausesSaid.Right(story));
        });
        var all = said.SelectMany(s => s.Said.Ranked.Select(r => (r.Probability, Came: s.Right.Contains(r.Family) ? 1.0 : 0))).ToList();
        for (var tenth = 0; tenth < 10; tenth++)
        {
            var inside = all.Where(a => Math.Min(9, (int)(a.Probability * 10)) == tenth).ToList();
            var off = new Tally(inside.Select(a => a.Came - a.Probability));
            var what = FormattableString.Invariant(
                $"said with {tenth / 10.0:0.0} to {(tenth + 1) / 10.0:0.0}: came true, less what was said ({inside.Count} said)");
            yield return off.Claim($"c9-tenth-{tenth}", what, inside.Count < Few ? Band.Shown : Band.Between(-0.1, 0.1));
        }

        var wrong = new Tally(said.Select(s => s.Said.Certain is { } certain && !s.Right.Contains(certain) ? 1.0 : 0));
        yield return wrong.Claim("c9-certain-wrong", "over what a year brings: certain (0.9 and more) and wrong", Band.AtMost(0.01));
    }
}

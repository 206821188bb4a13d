using TruthBenchmark.Product;
using TruthBenchmark.World;

namespace TruthBenchmark.Claims.Causes;

/// <summary>What is said of causes, by the strip alone, on patterns that are not the signatures' own.</summary>
internal sealed class CauseClaims : IClaims
{
    public string Name => "causes";

    public IEnumerable<Claim> Of(Run run) => Calibration.Of(run).Concat(Single(run)).Concat(Quiet(run)).Concat(Several(run))
        .Concat(Strangers.Of(run));

    /// <summary>What is said of many strips.</summary>
    public static ImmutableArray<Tally> Say(
        Run run, int stream, int draws, Func<Dice, CauseStory> story, Func<CausesSaid, CauseStory, double[]> look) =>
        Tally.Of(draws, i =>
        {
            var drawn = story(new Dice(run.Seed + stream, i));
            return look(CausesSaid.Of(drawn.Papers), drawn);
        });

    private static IEnumerable<Claim> Single(Run run)
    {
        var all = new List<Claim>();
        foreach (var kind in Faults.Kinds)
        {
            var found = Say(run, 60 + (int)kind, run.Draws(600, 60), d => CauseStory.Of(d, 1.5, kind), (said, _) =>
                [said.First == CausesSaid.Of(kind) ? 1 : 0, said.Ranked.Take(3).Any(r => r.Family == CausesSaid.Of(kind)) ? 1 : 0]);
            all.Add(found[0].Claim($"c9-first-{kind}".ToLowerInvariant(), $"{kind} at 1.5 action limits: its family first", Band.Shown));
            all.Add(found[1].Claim(
                $"c9-three-{kind}".ToLowerInvariant(), $"{kind} at 1.5 action limits: its family in the first three", Band.Shown));
        }

        var first = all.Where(c => c.Id.StartsWith("c9-first", StringComparison.Ordinal)).ToList();
        var error = Math.Sqrt(first.Sum(c => c.Error * c.Error)) / first.Count;
        return all.Append(new Claim(
            "c9-first", "one fault at 1.5 action limits, all kinds alike: its family first", Band.AtLeast(0.88),
            first.Average(c => c.Figure), error, first.Sum(c => c.Draws)));
    }

    private static IEnumerable<Claim> Quiet(Run run)
    {
        var still = Say(run, 70, run.Draws(4000, 400), CauseStory.Nothing, (said, _) => [said.Quiet ? 1 : 0]);
        yield return still[0].Claim("c9-quiet", "nothing happened: nothing is said", Band.AtLeast(0.97));
        var rough = Say(run, 71, run.Draws(1000, 200), d => CauseStory.Scattered(d, 0.020, 20), (said, _) => [said.Quiet ? 1 : 0]);
        yield return rough[0].Claim(
            "c9-quiet-scattered", "nothing happened, a line that scatters by 0.020 as its twenty strips before show: nothing is said",
            Band.AtLeast(0.97));
        var weak = Say(run, 72, run.Draws(2000, 300), d => CauseStory.Of(
            d, 0.8, d.Pick(Faults.Kinds.Where(k => k is not FaultKind.Contaminated).ToList())), (said, _) =>
            [said.First == CausesSaid.Of(FaultKind.Contaminated) ? 1 : 0]);
        yield return weak[0].Claim(
            "c9-weak-contamination", "another fault at 0.8 action limits: a contaminated developer first", Band.AtMost(0.05));
    }

    private static IEnumerable<Claim> Several(Run run)
    {
        var two = Say(run, 73, run.Draws(2000, 300), d => CauseStory.Of(d, d.Between(1.2, 2.5), CauseStory.Two(d)), (said, story) =>
        [
            CausesSaid.Right(story).All(r => said.Ranked.Take(3).Any(g => g.Family == r)) ? 1 : 0,
            said.Certain is { } certain && !CausesSaid.Right(story).Contains(certain) ? 1 : 0,
        ]);
        yield return two[0].Claim("c9-two", "two faults at once: both among the first three", Band.AtLeast(0.50));
        yield return two[1].Claim("c9-two-certain", "two faults at once: certain of a third", Band.AtMost(0.01));
    }
}

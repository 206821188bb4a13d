using TruthBenchmark.Product;
using TruthBenchmark.World;

namespace TruthBenchmark.Claims.Plausibility;

/// <summary>Whether mistakes of reading are asked about, and film that is truly bad is not.</summary>
internal sealed class PlausibilityClaims : IClaims
{
    // Ours where the aims name no figure.
    private const double Usual = 0.60;

    public string Name => "plausibility";

    public IEnumerable<Claim> Of(Run run) =>
        Asked(run, "live", QuestionsAsked.Live).Concat(Asked(run, "typed", QuestionsAsked.Typed));

    private static IEnumerable<Claim> Asked(Run run, string way, Func<House, string?>? ask)
    {
        foreach (var mistake in ReadingMistake.All)
        {
            var aim = Band.AtLeast(mistake.Id.StartsWith("cell", StringComparison.Ordinal) ? 0.95 : Usual);
            yield return Share(
                run, $"p10-{way}-{mistake.Id}", $"{way}: {mistake.What}: asked", run.Draws(600, 15), aim, ask, mistake.Shown);
        }

        foreach (var film in BadFilm.All)
        {
            yield return Share(
                run,
                $"p10-{way}-false-{film.Id}",
                $"{way}: film {film.What}, read rightly: asked",
                run.Draws(600, 25),
                Band.AtMost(0.02),
                ask,
                film.Made);
        }
    }

    private static Claim Share(
        Run run, string id, string what, int draws, Band aim, Func<House, string?>? ask, Func<Dice, Cells, Cells> made)
    {
        return ask is null ? Claim.NotOffered(id, what, aim) : Tally.Of(draws, i =>
        {
            var dice = new Dice(run.Seed + 100, i);
            return [ask(StripStory.Of(dice, strip => made(dice, strip))) is null ? 0 : 1];
        })[0].Claim(id, what, aim);
    }
}

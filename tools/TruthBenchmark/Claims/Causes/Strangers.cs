using TruthBenchmark.Product;
using TruthBenchmark.World;

namespace TruthBenchmark.Claims.Causes;

/// <summary>What no fault of the list has done: it must not be blamed with certainty.</summary>
internal static class Strangers
{
    private static readonly ImmutableArray<(Mishap Mishap, string What)> All =
    [
        (Mishap.Unlisted, "a pattern outside the list"),
        (Mishap.OneCell, "one cell mistyped"),
        (Mishap.WrongEnd, "strip read from the wrong end"),
        (Mishap.DamagedPatch, "one patch damaged"),
        (Mishap.OtherLot, "another lot's aims"),
        (Mishap.OtherMaker, "another maker's strip"),
        (Mishap.OtherStatus, "another status"),
    ];

    public static IEnumerable<Claim> Of(Run run)
    {
        foreach (var (mishap, what) in All)
        {
            var found = CauseClaims.Say(run, 74, run.Draws(1000, 150), d => CauseStory.Of(d, mishap), (said, story) =>
            [
                CausesSaid.IsFault(said.Certain) ? 1 : 0,
                said.Quiet ? double.NaN : CausesSaid.Right(story).Contains(said.First ?? "") ? 1 : 0,
                said.AsksToReadAgain ? 1 : 0,
            ]);
            var id = $"c9-{mishap}".ToLowerInvariant();
            yield return found[0].Claim($"{id}-certain", $"{what}: certain of some fault", Band.AtMost(0.05));
            // Of the pattern outside the list it is asked for; of the mistakes it is ours.
            yield return found[1].Claim($"{id}-first", $"{what}, not taken for scatter: named first", Band.AtLeast(0.60));
            if (mishap is Mishap.WrongEnd or Mishap.OneCell)
            {
                yield return found[2].Claim($"{id}-again", $"{what}: the first step is to read it again", Band.AtLeast(0.90));
            }
        }
    }
}

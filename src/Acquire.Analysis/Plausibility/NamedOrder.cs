namespace Acquire.Analysis.Plausibility;

/// <summary>
/// D-min &lt; LD &lt; MD &lt; HD &lt; D-max, as the names of the patches say. It serves where no aims are known yet: when the lot's
/// reference is read.
/// </summary>
internal static class NamedOrder
{
    private const double Evidence = 5;
    private const double Sure = 4;
    private static readonly string[] Rising = ["dmin", "ld", "md", "hd", "dmax"];

    /// <summary>The suspicion that follows from the patches read so far; null when the named ones rise.</summary>
    public static Suspicion? Of(ImmutableArray<PatchReads> patches, StripKnowledge knowledge)
    {
        var falls = Falls(patches, knowledge);
        if (falls.Count == 0)
        {
            return null;
        }

        if (patches.All(p => p.LeftOut is not null || p.Accepted.Any()) && Mended(patches, knowledge) is { } mended)
        {
            return mended;
        }

        var (lower, upper) = falls[0];
        return new Suspicion(
            SuspicionKind.NeutralOrder,
            Evidence,
            [lower.Key, upper.Key],
            [],
            $"{upper.Name} reads lighter than {lower.Name}. Was another patch read, or is the strip being read from the wrong end? "
            + $"Read {upper.Name} and {lower.Name} again?",
            new Remedy.ReadPatchAgain([lower.Key, upper.Key], "its density was out of order"));
    }

    // Pairs of which the one that should be darker is not, the one that was read last first.
    private static List<(Patch Lower, Patch Upper)> Falls(ImmutableArray<PatchReads> patches, StripKnowledge knowledge)
    {
        var named = patches
            .Select((p, i) => (Slot: i, p.Patch, Rank: Array.IndexOf(Rising, Bare(p.Patch.Key)), Mean: Mean(p, knowledge)))
            .Where(p => p.Rank >= 0 && p.Mean is not null)
            .ToList();
        return
        [
            .. from lower in named
               from upper in named
               where upper.Rank > lower.Rank && upper.Mean < lower.Mean - Margin(knowledge)
               orderby Math.Max(lower.Slot, upper.Slot) descending
               select (lower.Patch, upper.Patch),
        ];
    }

    // The strip turned round, or two patches exchanged, if that puts all in order.
    private static Suspicion? Mended(ImmutableArray<PatchReads> patches, StripKnowledge knowledge)
    {
        var n = patches.Length;
        ImmutableArray<int> same = [.. Enumerable.Range(0, n)];
        var exchanges =
            from i in same
            from j in same
            where i < j
            select (Kind: SuspicionKind.NeutralOrder, From: same.SetItem(i, j).SetItem(j, i),
                Question: $"These look like {patches[i].Patch.Name} and {patches[j].Patch.Name} exchanged: reorder?");
        var mends = exchanges.Prepend((
            SuspicionKind.WrongEnd, [.. same
                .Reverse()], "This strip looks as if it was read from the wrong end. Put the patches in the right order?"));
        return mends
            .Where(m => Falls(Remedies.Apply(new Remedy.ReorderPatches(m.From), patches, default), knowledge).Count == 0)
            .Select(m => new Suspicion(
                m.Kind,
                Evidence,
                [.. same.Where(i => m.From[i] != i).Select(i => patches[i].Patch.Key)],
                [],
                m.Question,
                new Remedy.ReorderPatches(m.From)))
            .FirstOrDefault();
    }

    private static double? Mean(PatchReads patch, StripKnowledge knowledge)
    {
        var means = PatchMeans.Of([patch]).Where(m => knowledge.Sheet.ChannelsNeeded.Contains(m.Channel)).ToList();
        return means.Count > 0 ? means.Average(m => m.Mean) : null;
    }

    private static double Margin(StripKnowledge knowledge) =>
        Sure * Math.Sqrt(2) * knowledge.Sheet.ChannelsNeeded.Select(knowledge.RepeatabilityOf).DefaultIfEmpty(0).Max();

    private static string Bare(string key) => new([.. key.Where(char.IsLetterOrDigit).Select(char.ToLowerInvariant)]);
}

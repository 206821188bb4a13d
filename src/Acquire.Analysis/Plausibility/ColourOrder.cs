namespace Acquire.Analysis.Plausibility;

/// <summary>B &gt; G &gt; R in every neutral of a masked negative, by its orange mask. Common practice, no source. Where that fails
/// and no other mistake explains it, the user is asked.</summary>
internal static class ColourOrder
{
    private const double Evidence = 4;

    // In a masked negative the colours of a neutral lie this far apart at least; a gap that is smaller is not counted on.
    private const double LeastGap = 0.10;

    // Faults narrow the gaps, but not to this; gaps that scatter alone may narrow to it are not questioned.
    private const double Closed = 0.02;
    private const double Sure = 4;

    /// <summary>The first patch that breaks the order; null when none does or the film is not masked.</summary>
    /// <param name="patches">The strip as read so far.</param>
    /// <param name="knowledge">What is known of it.</param>
    /// <param name="strangeness">Evidence that the densities are nothing that the process does, where aims tell.</param>
    public static Suspicion? Of(ImmutableArray<PatchReads> patches, StripKnowledge knowledge, double strangeness)
    {
        // What the process can have done is not questioned, however close the colours come.
        if (!IsMasked(knowledge) || (!knowledge.Aims.IsDefaultOrEmpty && strangeness < 0))
        {
            return null;
        }

        foreach (var patch in patches)
        {
            var mean = PatchMeans.Of([patch]).ToDictionary(m => m.Channel);
            if (Channels.Colours.All(mean.ContainsKey) && Keeps(patch.Patch.Key, knowledge)
                && (Breaks(mean[Channel.Green], mean[Channel.Red], knowledge)
                    || Breaks(mean[Channel.Blue], mean[Channel.Green], knowledge)))
            {
                return new Suspicion(
                    SuspicionKind.ColourOrder,
                    Math.Max(Evidence, strangeness),
                    [patch.Patch.Key],
                    [],
                    $"{patch.Patch.Name} of a masked negative should read highest in blue and lowest in red, and does not: are the "
                    + $"channels, the status, the film "
                    + $"and the patch the right ones? Read {patch.Patch.Name} again?",
                    new Remedy.ReadPatchAgain([patch.Patch.Key], "its colours were out of order"));
            }
        }

        return null;
    }

    /// <summary>From the aims of most patches, else from the status: M is for colour negatives to be printed (ISO 5-3).</summary>
    private static bool IsMasked(StripKnowledge knowledge) => knowledge.Aims.IsDefaultOrEmpty
        ? knowledge.Sheet.Status == DensityStatus.M && Channels.Colours.All(knowledge.Sheet.ChannelsNeeded.Contains)
        : knowledge.Layout.Patches.Count(p => Keeps(p.Key, knowledge)) * 2 > knowledge.Layout.Patches.Length;

    private static bool Keeps(string key, StripKnowledge knowledge) => knowledge.Aims.IsDefaultOrEmpty
        || (knowledge.Aim(key, Channel.Red) is { } red && knowledge.Aim(key, Channel.Green) is { } green
            && knowledge.Aim(key, Channel.Blue) is { } blue
            && green.Value - red.Value > LeastGap && blue.Value - green.Value > LeastGap);

    private static bool Breaks(PatchMean upper, PatchMean lower, StripKnowledge knowledge)
    {
        var (u, l) = (
            knowledge.RepeatabilityOf(upper.Channel, upper.Mean), knowledge.RepeatabilityOf(lower.Channel, lower.Mean));
        return upper.Mean - lower.Mean < Math.Min(Closed, LeastGap - (Sure * Math.Sqrt(((u * u) + (l * l)) / upper.Reads)));
    }
}

/// <summary>A reading of about zero in every channel: no film is that clear.</summary>
internal static class NullReading
{
    // The clearest base shows some 0.03 and more; common practice, no source.
    private const double Clear = 0.02;
    private const double Evidence = 6;

    public static Suspicion? Of(ImmutableArray<TimedRead> reads, StripKnowledge knowledge)
    {
        if (reads.IsEmpty)
        {
            return null;
        }

        var last = reads[^1];
        var values = knowledge.Sheet.ChannelsNeeded
            .Select(c => last.Reading.Densities[c])
            .Where(d => d is not null)
            .Select(d => d!.Value.ToDouble())
            .ToList();
        return values.Count > 0 && values.All(v => v <= Clear)
            ? new Suspicion(
                SuspicionKind.RelativeMode,
                Evidence,
                [last.Place.PatchKey],
                [last.Place],
                $"{last.Patch.Name} reads about zero in every channel: is the instrument in its relative mode, was it zeroed on this "
                + $"patch, or is nothing in "
                + $"the gate? Set the zero on the open gate and read {last.Patch.Name} again?",
                new Remedy.SwitchInstrument("absolute densities, zeroed on the open gate"))
            : null;
    }
}

/// <summary>D-min &lt; LD &lt; MD &lt; HD &lt; D-max, as the names of the patches say. It serves where no
/// aims are known yet: when the lot's reference is read.</summary>
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
               where upper.Rank > lower.Rank && upper.Mean < lower.Mean - Margin(knowledge, lower.Mean!.Value)
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
            SuspicionKind.WrongEnd,
            [.. same.Reverse()],
            "This strip looks as if it was read from the wrong end. Put the patches in the right order?"));
        return mends
            .Where(m => Falls(Remedies.Apply(new Remedy.ReorderPatches(m.From), patches, default), knowledge).Count == 0)
            .Select(m => new Suspicion(
                m.Kind, Evidence, [.. same.Where(i => m.From[i] != i).Select(i => patches[i].Patch.Key)], [], m.Question,
                new Remedy.ReorderPatches(m.From)))
            .FirstOrDefault();
    }

    private static double? Mean(PatchReads patch, StripKnowledge knowledge)
    {
        var means = PatchMeans.Of([patch]).Where(m => knowledge.Sheet.ChannelsNeeded.Contains(m.Channel)).ToList();
        return means.Count > 0 ? means.Average(m => m.Mean) : null;
    }

    private static double Margin(StripKnowledge knowledge, double density) => Sure * Math.Sqrt(2)
        * knowledge.Sheet.ChannelsNeeded.Select(c => knowledge.RepeatabilityOf(c, density)).DefaultIfEmpty(0).Max();

    private static string Bare(string key) => new([.. key.Where(char.IsLetterOrDigit).Select(char.ToLowerInvariant)]);
}

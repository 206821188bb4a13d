namespace Acquire.Analysis.Plausibility;

/// <summary>
/// B &gt; G &gt; R in every neutral of a masked negative, by its orange mask. Common practice, no source. Where that fails and no other
/// mistake
/// explains it, the user is asked.
/// </summary>
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

    /// <summary>From the user's word, else from the aims of most patches, else from the status.</summary>
    public static bool IsMasked(StripKnowledge knowledge) => knowledge.MaskedNegative
        ?? (knowledge.Aims.IsDefaultOrEmpty
            ? knowledge.Sheet.Status == DensityStatus.M && Channels.Colours.All(knowledge.Sheet.ChannelsNeeded.Contains)
            : knowledge.Layout.Patches.Count(p => Keeps(p.Key, knowledge)) * 2 > knowledge.Layout.Patches.Length);

    private static bool Keeps(string key, StripKnowledge knowledge) => knowledge.Aims.IsDefaultOrEmpty
        || (knowledge.Aim(key, Channel.Red) is { } red && knowledge.Aim(key, Channel.Green) is { } green
            && knowledge.Aim(key, Channel.Blue) is { } blue
            && green.Value - red.Value > LeastGap && blue.Value - green.Value > LeastGap);

    private static bool Breaks(PatchMean upper, PatchMean lower, StripKnowledge knowledge)
    {
        var (u, l) = (knowledge.RepeatabilityOf(upper.Channel), knowledge.RepeatabilityOf(lower.Channel));
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

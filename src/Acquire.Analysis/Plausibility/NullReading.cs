namespace Acquire.Analysis.Plausibility;

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
        var values = knowledge.Sheet.ChannelsNeeded.Select(c => last.Reading.Densities[c]).Where(d => d is not null).Select(d => d!.Value.ToDouble()).ToList();
        return values.Count > 0 && values.All(v => v <= Clear)
            ? new Suspicion(
                SuspicionKind.RelativeMode,
                Evidence,
                [last.Place.PatchKey],
                [last.Place],
                $"{last.Patch.Name} reads about zero in every channel: is the instrument in its relative mode, was it zeroed on this patch, or is nothing in "
                + $"the gate? Set the zero on the open gate and read {last.Patch.Name} again?",
                new Remedy.SwitchInstrument("absolute densities, zeroed on the open gate"))
            : null;
    }
}

namespace Acquire.Analysis.Plausibility;

/// <summary>Two readings too quick after each other to be of a strip placed anew.</summary>
internal static class DoubleTrigger
{
    private const double SameValues = 8;
    private const double WithinOneStep = 6;

    /// <summary>The suspicion about the last read; null when there is none.</summary>
    public static Suspicion? Of(ImmutableArray<TimedRead> reads, StripKnowledge knowledge)
    {
        if (reads.Length < 2 || knowledge.ReadsPerPlacement > 1)
        {
            return null;
        }

        var (before, last) = (reads[^2], reads[^1]);
        var gap = last.Reading.At - before.Reading.At;
        if (before.Reading.IsEntered || last.Reading.IsEntered || gap >= knowledge.Settings.QuickestPlacing
            || Steps(before.Reading.Densities, last.Reading.Densities) is not { } steps || steps > 1.001)
        {
            return null;
        }

        return new Suspicion(
            SuspicionKind.DoubleTrigger,
            steps < 0.001 ? SameValues : WithinOneStep,
            [last.Place.PatchKey],
            [last.Place],
            FormattableString.Invariant(
                $"The last reading of {last.Patch.Name} came {gap.TotalSeconds:0.0} s after the one before and shows the same: was it triggered twice? Leave it out?"),
            new Remedy.LeaveOutRead(last.Place, "triggered twice"));
    }

    // How far the values differ, in display steps; null when the readings share no channel.
    private static double? Steps(ChannelDensities before, ChannelDensities last)
    {
        var shared = before.Present.Intersect(last.Present).ToList();
        return shared.Count == 0
            ? null
            : shared.Max(c => Math.Abs(before[c]!.Value.ToDouble() - last[c]!.Value.ToDouble()) / last[c]!.Value.Resolution);
    }
}

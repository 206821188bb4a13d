namespace Acquire.Instruments.Learning;

/// <summary>The ways to cut a capture into lines: by what ends lines in its bytes, and by its pauses where it has times.</summary>
internal static class CaptureCuts
{
    /// <summary>Each way that can be gone, the likeliest first; at least one.</summary>
    /// <exception cref="DeclinedException">There is none; the message says why.</exception>
    public static IReadOnlyList<Capture> Of(LearningInput input)
    {
        List<Capture> cuts = [];
        DeclinedException? declined = null;
        Try(() => Capture.Cut(input.Capture));
        foreach (var gap in PauseGaps.Of(input.Chunks))
        {
            Try(() => Capture.Cut(input.Chunks, gap));
        }

        return cuts is [{ Chunks.IsEmpty: true } plain, .. var paused] && EndsOpen(plain, input) ? [.. paused, plain]
            : cuts.Count > 0 ? cuts : throw declined!;

        void Try(Func<Capture> cut)
        {
            try
            {
                cuts.Add(cut());
            }
            catch (DeclinedException e)
            {
                declined ??= e;
            }
        }
    }

    /// <summary>
    /// Whether line ends stand between lines only, so that without a pause the last line of a reading would not end before the next begins.
    /// </summary>
    private static bool EndsOpen(Capture plain, LearningInput input) => plain.Bytes.Length > input.Capture.Length && !input.Chunks.IsEmpty;
}

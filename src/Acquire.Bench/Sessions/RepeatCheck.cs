using Acquire.Bench.Guidance;

namespace Acquire.Bench.Sessions;

/// <summary>
/// Asks whether a repeat is of the same patch. A densitometer repeats a re-placed patch to about 0.01 (common practice, no source); reads
/// that lie further apart than five times that are of two patches, or one of them met dust or a scratch.
/// </summary>
internal static class RepeatCheck
{
    /// <summary>The widest range of reads of one patch, in density, that is not questioned.</summary>
    public const decimal WidestRange = 0.05m;

    /// <summary>The question about the patch that was just read; null when its reads agree.</summary>
    public static string? Question(GuidedStrip strip, ReadTarget target)
    {
        var patch = strip.Patches[target.Position - 1];
        var (channel, range) = Channels.All
            .Select(c => (Channel: c, Densities: patch.Densities(c).Select(d => d.Value).ToList()))
            .Where(c => c.Densities.Count > 1)
            .Select(c => (c.Channel, Range: c.Densities.Max() - c.Densities.Min()))
            .DefaultIfEmpty()
            .MaxBy(c => c.Range);
        return range > WidestRange
            ? string.Create(
                CultureInfo.InvariantCulture,
                $"The reads of {target.Patch.Name} lie {range:0.00##} apart in {channel.Word()}. Is this the same patch, clean and dry? "
                + $"If not, take the read back (u) or read the patch again (r).")
            : null;
    }
}

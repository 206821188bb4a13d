namespace Acquire.Domain.Densitometry;

/// <summary>One measurement of one patch: the densities and the raw lines they came from.</summary>
/// <param name="Densities">The densities by channel.</param>
/// <param name="At">When the last of its lines was received, or when it was entered.</param>
/// <param name="Lines">The lines it came from; empty when it was entered by hand.</param>
public sealed record Reading(ChannelDensities Densities, DateTimeOffset At, ImmutableArray<RawLine> Lines)
{
    /// <summary>Whether a person typed it, so that no raw line stands behind it.</summary>
    public bool IsEntered => Lines.IsDefaultOrEmpty;

    /// <summary>A reading typed by a person.</summary>
    public static Reading Entered(ChannelDensities densities, DateTimeOffset at) => new(densities, at, []);
}

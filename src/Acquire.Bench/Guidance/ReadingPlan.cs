namespace Acquire.Bench.Guidance;

/// <summary>What is to be read: the patches of a layout in order, so many reads each, in the channels that must be there.</summary>
public sealed record ReadingPlan
{
    /// <summary>The most reads a patch may have.</summary>
    public const int MostReads = 50;

    /// <param name="layout">The patches in order.</param>
    /// <param name="readsPerPatch">How many reads each patch is to have.</param>
    /// <param name="channels">
    /// The channels that every reading must carry; empty where any reading will do, which has one channel at least.
    /// </param>
    /// <exception cref="ImpossibleValueException">Reads per patch are not 1 … 50.</exception>
    public ReadingPlan(StripLayout layout, int readsPerPatch, ImmutableArray<Channel> channels)
    {
        Layout = layout;
        ReadsPerPatch = readsPerPatch is >= 1 and <= MostReads
            ? readsPerPatch
            : throw new ImpossibleValueException($"Each patch is read 1 to {MostReads} times, not {readsPerPatch}.");
        Channels = channels.IsDefault ? [] : channels;
    }

    /// <summary>The patches in order.</summary>
    public StripLayout Layout { get; }

    /// <summary>How many reads each patch is to have.</summary>
    public int ReadsPerPatch { get; }

    /// <summary>How many reads follow each other without moving the patch; 1 when it is placed anew for each.</summary>
    public int ReadsPerPlacement
    {
        get;
        init => field = value >= 1 && ReadsPerPatch % value == 0
            ? value
            : throw new ImpossibleValueException($"{ReadsPerPatch} reads of a patch cannot be placements of {value} reads each.");
    }

    = 1;

    /// <summary>The channels that every reading must carry; empty where any will do.</summary>
    public ImmutableArray<Channel> Channels { get; }

    /// <summary>The channels that a reading lacks.</summary>
    public ImmutableArray<Channel> Missing(ChannelDensities densities) => [.. Channels.Where(c => densities[c] is null)];
}

/// <summary>What the user reads next.</summary>
/// <param name="Read">Which read of it, from 1.</param>
/// <param name="Of">How many reads it is to have.</param>
/// <param name="Position">Which patch of the strip, from 1.</param>
/// <param name="Patches">How many patches the strip has.</param>
public sealed record ReadTarget(Patch Patch, int Read, int Of, int Position, int Patches)
{
    /// <summary>Whether the patch stays where it is, instead of being placed anew for this read.</summary>
    public bool Still { get; init; }
}

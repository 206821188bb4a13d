namespace Acquire.Analysis.Plausibility;

/// <summary>What to do about a mistake.</summary>
public abstract record Remedy
{
    private Remedy()
    {
    }

    /// <summary>Give the reads to other patches.</summary>
    /// <param name="From">For each patch in the layout's order, the index of the patch whose reads it takes; a permutation.</param>
    public sealed record ReorderPatches(ImmutableArray<int> From) : Remedy;

    /// <summary>Give the densities of some patches to other channels.</summary>
    /// <param name="PatchKeys">The patches.</param>
    /// <param name="Moves">Where each density goes; a permutation of channels.</param>
    public sealed record ExchangeChannels(ImmutableArray<string> PatchKeys, ImmutableArray<ChannelMove> Moves) : Remedy;

    /// <summary>Read patches again; their reads stay with the reason.</summary>
    /// <param name="PatchKeys">The patches.</param>
    /// <param name="Reason">The reason that the reads get.</param>
    public sealed record ReadPatchAgain(ImmutableArray<string> PatchKeys, string Reason) : Remedy;

    /// <summary>Leave out one read; it stays with the reason.</summary>
    /// <param name="Read">The read.</param>
    /// <param name="Reason">The reason that it gets.</param>
    public sealed record LeaveOutRead(ReadPlace Read, string Reason) : Remedy;

    /// <summary>Clean the aperture, set the zero and read the strip again.</summary>
    public sealed record CheckZero : Remedy;

    /// <summary>Check the instrument on its plaque, and read the strip again when it was off.</summary>
    public sealed record CheckSlope : Remedy;

    /// <summary>Let the strip dry and read it again.</summary>
    public sealed record WaitAndDry : Remedy;

    /// <summary>Judge by the aims of another lot.</summary>
    /// <param name="LotCode">The lot that fits; null when none of those known does.</param>
    public sealed record ChooseLot(string? LotCode) : Remedy;

    /// <summary>Set the instrument to another mode, channel or status and read the strip again.</summary>
    /// <param name="Setting">The setting, in words.</param>
    public sealed record SwitchInstrument(string Setting) : Remedy;

    /// <summary>Nothing is proposed: the user looks.</summary>
    public sealed record None : Remedy;
}

/// <summary>A density that goes from one channel to another.</summary>
/// <param name="From">The channel it stands in.</param>
/// <param name="To">The channel it belongs to.</param>
public readonly record struct ChannelMove(Channel From, Channel To);

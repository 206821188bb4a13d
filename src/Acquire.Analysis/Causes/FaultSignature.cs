namespace Acquire.Analysis.Causes;

/// <summary>One fault, all that is known of it in one row: what it does to the densities of a control strip (strip − aim, at a size that is
/// often met), its family, how common it is, what speaks for it, what tests it and what to check first.</summary>
public sealed record FaultSignature : Possibility
{
    /// <summary>Key of the process sheet.</summary>
    public required string ProcessKey { get; init; }

    /// <summary>How it shows over time.</summary>
    public required FaultOnset Onset { get; init; }

    /// <summary>How sure the direction is.</summary>
    public required DirectionConfidence Confidence { get; init; }

    /// <summary>The differences by key of patch; a patch that is missing does not move.</summary>
    public required ImmutableDictionary<string, ColourSizes> Sizes { get; init; }

    /// <summary>The treatment of the same strip that takes it away, and so tests it; none for a fault that no treatment mends.</summary>
    public Treatment MendedBy { get; init; }

    /// <summary>What of the books speaks for it, beside what its origin and onset make likelier.</summary>
    public FaultOccasion Occasion { get; init; }

    /// <summary>Whether densities tell anything of it; a missing final rinse shows only after years.</summary>
    public bool Shows => Sizes.Values.Any(s => s != default);

    /// <summary>The difference of one patch and channel, in density; 0 where the fault does not move it.</summary>
    public double Size(string patchKey, Channel channel) => Sizes.TryGetValue(patchKey, out var sizes) ? sizes[channel] : 0;

    /// <summary>Whether treating a strip so tests it. Re-bleaching ends with fixing and washing, and re-fixing
    /// with washing, so each tests what comes after it too.</summary>
    public bool IsTestedBy(Treatment treatment) => (treatment, MendedBy) switch
    {
        (_, Treatment.None) => false,
        (Treatment.ReBleach, _) => true,
        (Treatment.ReFix, _) => MendedBy is Treatment.ReFix or Treatment.ReWash,
        (Treatment.ReWash, _) => MendedBy is Treatment.ReWash,
        _ => false,
    };
}

/// <summary>The signatures that are known, by process. A process without any has none: nothing is carried over from another.</summary>
public static class FaultSignatures
{
    /// <summary>All of them.</summary>
    public static ImmutableArray<FaultSignature> All => ColourNegativeFaults.All;

    /// <summary>Those of one process; empty when none are known.</summary>
    public static ImmutableArray<FaultSignature> Of(string processKey) =>
        [.. All.Where(s => Keys.Same(s.ProcessKey, processKey))];
}

/// <summary>How sure the direction of a signature is; its sizes are never surer than the direction.</summary>
public enum DirectionConfidence
{
    /// <summary>Sources differ or are thin.</summary>
    Low,

    /// <summary>Usual, with exceptions.</summary>
    Medium,

    /// <summary>Agreed.</summary>
    High,
}

/// <summary>How a fault shows over time.</summary>
public enum FaultOnset
{
    /// <summary>From one run to the next.</summary>
    Jump,

    /// <summary>Slowly, with the days that a solution stands.</summary>
    DriftWithDays,

    /// <summary>Slowly, with the film that goes through.</summary>
    DriftWithUse,

    /// <summary>In every run alike, since the method is so.</summary>
    Constant,
}

/// <summary>What in the books makes a fault likelier.</summary>
public enum FaultOccasion
{
    /// <summary>Nothing but its onset and origin.</summary>
    None,

    /// <summary>A new mix: it is made when mixing.</summary>
    NewMix,

    /// <summary>A pause: air gets at a developer that stands, and a bleach that stands loses it.</summary>
    Standing,
}

/// <summary>Differences of density in the three colours.</summary>
public readonly record struct ColourSizes(double Red, double Green, double Blue)
{
    /// <summary>The difference in one channel; a visual density follows green, which is most of it.</summary>
    public double this[Channel channel] => channel switch
    {
        Channel.Red => Red,
        Channel.Green or Channel.Visual => Green,
        Channel.Blue => Blue,
        _ => throw new ArgumentOutOfRangeException(nameof(channel), channel, null),
    };

    /// <summary>The sum by colour.</summary>
    public static ColourSizes operator +(ColourSizes left, ColourSizes right) =>
        new(left.Red + right.Red, left.Green + right.Green, left.Blue + right.Blue);
}

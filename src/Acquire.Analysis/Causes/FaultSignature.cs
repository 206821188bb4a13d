namespace Acquire.Analysis.Causes;

/// <summary>One fault, all that is known of it in one row: what it does to the densities of a control strip (strip − aim, at a size that is
/// often met), its family, how common it is, what speaks for it, what tests it and what to check first.</summary>
public sealed record FaultSignature
{
    /// <summary>The short word, such as <c>developer-cold</c>.</summary>
    public required string Key { get; init; }

    /// <summary>The fault in words; what follows a colon are the reasons to look for once a test has borne it out.</summary>
    public required string Name { get; init; }

    /// <summary>Key of the process sheet.</summary>
    public required string ProcessKey { get; init; }

    /// <summary>The faults that one strip hardly tells from it.</summary>
    public required FaultFamily Family { get; init; }

    /// <summary>How it shows over time.</summary>
    public required FaultOnset Onset { get; init; }

    /// <summary>How sure the direction is.</summary>
    public required DirectionConfidence Confidence { get; init; }

    /// <summary>The differences by key of patch; a patch that is missing does not move.</summary>
    public required ImmutableDictionary<string, ColourSizes> Sizes { get; init; }

    /// <summary>What to look at first.</summary>
    public required string FirstCheck { get; init; }

    /// <summary>Where the directions and sizes come from.</summary>
    public required string Source { get; init; }

    /// <summary>How common it is before anything is looked at, against a fault that happens to everybody. Common practice, no source:
    /// temperature, time, use and air trouble every darkroom.</summary>
    public double Commonness { get; init; } = 1;

    /// <summary>The treatment of the same strip that takes it away, and so tests it; none for a fault that no treatment mends.</summary>
    public Treatment MendedBy { get; init; }

    /// <summary>What of the books speaks for it, beside what its origin and onset make likelier.</summary>
    public FaultOccasion Occasion { get; init; }

    /// <summary>Where it lies.</summary>
    public FaultOrigin Origin => Family.Origin;

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

/// <summary>Where a fault lies.</summary>
public enum FaultOrigin
{
    /// <summary>In the solutions or the way they are used.</summary>
    Process,

    /// <summary>In the strips: fogged, old, heated.</summary>
    Strips,

    /// <summary>In the instrument: the process is not to blame.</summary>
    Instrument,
}

/// <summary>Faults that one strip hardly tells apart: they move the patches
/// alike, and the books or a test must decide among them.</summary>
/// <param name="Key">The short word, as the JSON has it.</param>
/// <param name="Name">What it is called in a sentence.</param>
/// <param name="Origin">Where its faults lie.</param>
/// <param name="GeneralCheck">What is looked at before the solutions are, whether or not a fault of the family is
/// probable; null for faults of the solutions, which come last.</param>
/// <param name="BleachTest">When the strip is bleached and fixed again before a solution is blamed.</param>
public sealed record FaultFamily(
    string Key, string Name, FaultOrigin Origin = FaultOrigin.Process, string? GeneralCheck = null,
    BleachTest BleachTest = BleachTest.Never)
{
    /// <summary>Zero, slope or light of the densitometer.</summary>
    public static FaultFamily Instrument { get; } = new(
        "instrument", "the densitometer", FaultOrigin.Instrument, "Read the reference strip or the plaque: has the densitometer moved?");

    /// <summary>Fogged, old or heated strips.</summary>
    public static FaultFamily Strips { get; } = new(
        "strips", "the strips", FaultOrigin.Strips, "Check code number, expiry and storage of the strips.");

    /// <summary>Silver left in the film; it imitates contrast in all three colours, so it is tested before contrast is blamed.</summary>
    public static FaultFamily RetainedSilver { get; } = new("retainedSilver", "retained silver", BleachTest: BleachTest.WhenProbable);

    /// <summary>Cyan dye that has not formed fully.</summary>
    public static FaultFamily LeucoCyan { get; } = new("leucoCyan", "leuco-cyan", BleachTest: BleachTest.WhenProbable);

    /// <summary>Stain or veil: fixing, washing.</summary>
    public static FaultFamily Stain { get; } = new("stain", "stain or veil from fixing or washing");

    /// <summary>Something in the developer that does not belong there.</summary>
    public static FaultFamily Contamination { get; } = new("contamination", "a contaminated developer");

    /// <summary>A developer that does too much.</summary>
    public static FaultFamily DeveloperStrong { get; } = new(
        "developerStrong", "too much development", BleachTest: BleachTest.WhenSilverIsUnseen);

    /// <summary>A developer that does too little.</summary>
    public static FaultFamily DeveloperWeak { get; } = new("developerWeak", "too little development");

    /// <summary>The families whose general check comes before the solutions, in the
    /// trade's order: what measures, then what is measured.</summary>
    internal static ImmutableArray<FaultFamily> BeforeSolutions { get; } = [Instrument, Strips];
}

/// <summary>When a family of faults asks for bleaching and fixing the strip again.</summary>
public enum BleachTest
{
    Never,

    /// <summary>When the family is probable at all.</summary>
    WhenProbable,

    /// <summary>When the family is the likeliest and the patches that would show silver were not read.</summary>
    WhenSilverIsUnseen,
}

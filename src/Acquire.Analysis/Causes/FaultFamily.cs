namespace Acquire.Analysis.Causes;

/// <summary>Where a fault lies.</summary>
public enum FaultOrigin
{
    /// <summary>In the solutions or the way they are used.</summary>
    Process,

    /// <summary>In the strips: fogged, old, heated.</summary>
    Strips,

    /// <summary>In the instrument: the process is not to blame.</summary>
    Instrument,

    /// <summary>In what was read, or what it was compared with: nothing is wrong with film or process.</summary>
    Reading,

    /// <summary>Nobody knows.</summary>
    Unknown,
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

    /// <summary>Mistakes of reading or typing.</summary>
    public static FaultFamily Reading { get; } = new("reading", "a mistake of reading or typing", FaultOrigin.Reading);

    /// <summary>One patch is not what it was.</summary>
    public static FaultFamily DamagedPatch { get; } = new("damagedPatch", "one damaged patch", FaultOrigin.Reading);

    /// <summary>Strip and aims are of two lots.</summary>
    public static FaultFamily OtherLot { get; } = new("otherLot", "another lot's aims", FaultOrigin.Reading);

    /// <summary>Strip and aims are of two films.</summary>
    public static FaultFamily OtherMaker { get; } = new("otherMaker", "another maker's film", FaultOrigin.Reading);

    /// <summary>Strip and aims were read with other filters.</summary>
    public static FaultFamily OtherStatus { get; } = new("otherStatus", "another status", FaultOrigin.Reading);

    /// <summary>None of these: a pattern that no known fault makes.</summary>
    public static FaultFamily SomethingElse { get; } = new(
        "somethingElse", "something else than the known faults", FaultOrigin.Unknown);

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

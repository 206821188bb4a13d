namespace Acquire.Analysis.Causes;

/// <summary>What may be behind the deviations of a strip: a fault, a mistake, or something that no row speaks of.</summary>
public record Possibility
{
    /// <summary>The short word, such as <c>developer-cold</c>.</summary>
    public required string Key { get; init; }

    /// <summary>In words; what follows a colon are the reasons to look for once a test has borne it out.</summary>
    public required string Name { get; init; }

    /// <summary>What one strip hardly tells from it.</summary>
    public required FaultFamily Family { get; init; }

    /// <summary>What to look at first.</summary>
    public required string FirstCheck { get; init; }

    /// <summary>Where its pattern comes from.</summary>
    public required string Source { get; init; }

    /// <summary>How common it is before anything is looked at, against others of its kind. Common practice, no source.</summary>
    public double Commonness { get; init; } = 1;

    /// <summary>Where it lies.</summary>
    public FaultOrigin Origin => Family.Origin;
}

/// <summary>What is no fault of the table and yet in the race for every strip. Their patterns are judgement, no source.</summary>
public static class Possibilities
{
    private const string Judgement = "Judgement: a pattern by reasoning, no source.";

    /// <summary>Read or typed from the other end.</summary>
    public static Possibility WrongEnd { get; } = Row(
        "wrong-end", "the strip read from the wrong end", FaultFamily.Reading,
        "Read the strip again from the right end before anything else: the patches fit in the other order.", 0.15);

    /// <summary>Every patch taken for its neighbour.</summary>
    public static Possibility ShiftedPatches { get; } = Row(
        "shifted-patches", "every patch taken for its neighbour", FaultFamily.Reading,
        "Read the strip again, patch by patch: each fits the aim of the patch beside it.", 0.10);

    /// <summary>Two patches in each other's place.</summary>
    public static Possibility SwappedPatches { get; } = Row(
        "swapped-patches", "two patches in each other's place", FaultFamily.Reading,
        "Read the strip again: two patches seem to stand in each other's place.", 0.10);

    /// <summary>Colours in each other's place.</summary>
    public static Possibility SwappedColours { get; } = Row(
        "swapped-colours", "colours in each other's place", FaultFamily.Reading,
        "Read the strip again and look at the order of the colours: they seem to stand in each other's place.", 0.15);

    /// <summary>One value wrong.</summary>
    public static Possibility OneValue { get; } = Row(
        "one-value", "one value misread or mistyped", FaultFamily.Reading,
        "Read the strip again before anything else: one value alone is off.", 0.50);

    /// <summary>A scratch, dust, a drying mark.</summary>
    public static Possibility DamagedPatch { get; } = Row(
        "damaged-patch", "one patch scratched, dusty or marked by drying", FaultFamily.DamagedPatch,
        "Look at the patch that is off: scratch, dust, drying mark? Clean it and read it again beside the mark.");

    /// <summary>The strip is of another lot than the one whose aims are used.</summary>
    public static Possibility OtherLot { get; } = Row(
        "other-lot", "the aims of another lot", FaultFamily.OtherLot,
        "Compare the code number on the box with that of the lot; read the reference strip again.");

    /// <summary>The strip is made for other film.</summary>
    public static Possibility OtherMaker { get; } = Row(
        "other-maker", "a strip of another maker's film", FaultFamily.OtherMaker,
        "Is the strip of the same make of film as the reference?");

    /// <summary>The densitometer was set to another status.</summary>
    public static Possibility OtherStatus { get; } = Row(
        "other-status", "the densitometer set to another status", FaultFamily.OtherStatus,
        "Look at the status that the densitometer is set to, then read the reference strip: it must show its aims.");

    /// <summary>None of these.</summary>
    public static Possibility SomethingElse { get; } = Row(
        "something-else", "something else than the known faults", FaultFamily.SomethingElse,
        "If a second strip shows the same, no known fault makes it: write down what was last changed (film, solutions, method) and change "
        + "it back, one thing at a time.");

    /// <summary>Those that are weighed for every process with known faults.</summary>
    public static ImmutableArray<Possibility> BesideFaults { get; } =
    [
        WrongEnd, ShiftedPatches, SwappedPatches, SwappedColours, OneValue, DamagedPatch, OtherLot, OtherMaker, OtherStatus, SomethingElse,
    ];

    /// <summary>All that a strip of a process is weighed against; empty when no fault of the process is known.</summary>
    public static ImmutableArray<Possibility> Of(string processKey) =>
        FaultSignatures.Of(processKey).Where(s => s.Shows).ToImmutableArray() is { IsEmpty: false } faults
            ? [.. faults, .. BesideFaults]
            : [];

    private static Possibility Row(string key, string name, FaultFamily family, string firstCheck, double commonness = 1) => new()
    {
        Key = key,
        Name = name,
        Family = family,
        FirstCheck = firstCheck,
        Source = Judgement,
        Commonness = commonness,
    };
}

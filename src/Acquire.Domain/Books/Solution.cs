namespace Acquire.Domain.Books;

public enum SolutionKind
{
    /// <summary>Anything else.</summary>
    Other,

    /// <summary>The developer of a process that has one.</summary>
    Developer,

    /// <summary>The black-and-white developer of a reversal process.</summary>
    FirstDeveloper,

    /// <summary>The colour developer of a reversal process.</summary>
    ColourDeveloper,

    ReversalBath,

    StopBath,

    /// <summary>Pre-bleach or conditioner.</summary>
    PreBleach,

    Bleach,

    BleachFix,

    Fixer,

    /// <summary>Final rinse or stabiliser.</summary>
    FinalRinse,
}

/// <summary>A mix; its time is when it was mixed.</summary>
public sealed record Solution : BookEntry
{
    /// <exception cref="ImpossibleValueException">There is no name or process, or the volume is not above zero.</exception>
    public Solution(EntryStamp stamp, string name, SolutionKind kind, string processKey, double volume, string? concentrateLot = null)
        : base(stamp)
    {
        Name = Guard.Text(name, "The name of a solution");
        Kind = kind;
        ProcessKey = Guard.Text(processKey, "The process of a solution");
        Volume = Liquid.Volume(volume, "The volume of a mix");
        ConcentrateLot = Liquid.Word(concentrateLot);
    }

    /// <summary>The user's name for the mix.</summary>
    public string Name { get; }

    public SolutionKind Kind { get; }

    /// <summary>Key of the process sheet, such as <c>c41</c>.</summary>
    public string ProcessKey { get; }

    /// <summary>How much was mixed, in litres.</summary>
    public double Volume { get; }

    /// <summary>Lot of the concentrate, as printed on it; null when not noted.</summary>
    public string? ConcentrateLot { get; }

    /// <summary>Whether it develops the image that a control strip measures.</summary>
    public bool IsDeveloper => Kind is SolutionKind.Developer or SolutionKind.FirstDeveloper or SolutionKind.ColourDeveloper;
}

/// <summary>What volumes and temperatures of solutions can be.</summary>
internal static class Liquid
{
    /// <summary>A volume in litres, above zero.</summary>
    public static double Volume(double litres, string what) => litres is > 0 and <= 100_000
        ? litres
        : throw new ImpossibleValueException($"{what} is above zero and at most 100000 litres, not {litres}.");

    /// <summary>A temperature in °C at which a solution in water is liquid.</summary>
    public static double? Temperature(double? celsius, string what) => celsius is null or (>= -30 and <= 100)
        ? celsius
        : throw new ImpossibleValueException($"{what} is between -30 and 100 °C, not {celsius}.");

    public static double? Volume(double? litres, string what) => litres is { } given ? Volume(given, what) : null;

    /// <summary>Text or nothing; blanks alone are nothing.</summary>
    public static string? Word(string? text) => string.IsNullOrWhiteSpace(text) ? null : text.Trim();
}

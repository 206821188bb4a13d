namespace Acquire.Domain.Trust;

/// <summary>
/// One densitometer of the house, as a revision of it says. Checks, tests and readings belong to it by its name; two instruments of one
/// family share a profile and nothing else.
/// </summary>
public sealed record Instrument
{
    /// <summary>The coarsest display step, in density; a display of one decimal.</summary>
    public const double CoarsestStep = 0.1;

    private readonly string _profile = "";
    private readonly int? _baud;
    private readonly double? _displayStep;
    private readonly string? _port;
    private readonly string? _filters;
    private readonly string? _serialNumber;
    private readonly string? _notes;

    /// <param name="name">The user's name for it; the same in any case.</param>
    /// <param name="profile">The device profile: a name, or a file.</param>
    /// <exception cref="ImpossibleValueException">No name or no profile.</exception>
    public Instrument(string name, string profile, Revision revision) =>
        (Name, Profile, Revision) = (Guard.Text(name, "The name of an instrument"), profile, revision);

    public string Name { get; }

    /// <summary>The device profile: the name of one, or a file.</summary>
    public string Profile { get => _profile; init => _profile = Guard.Text(value, "The profile of an instrument"); }

    /// <summary>The address of its port, as the user writes it; null where nobody said.</summary>
    public string? Port { get => _port; init => _port = Words(value); }

    /// <summary>Bits per second, where it is set otherwise than its profile says; null for the profile's.</summary>
    /// <exception cref="ImpossibleValueException">Below 1.</exception>
    public int? Baud
    {
        get => _baud;
        init => _baud = value is null or >= 1
            ? value
            : throw new ImpossibleValueException($"A rate is 1 bit per second at least, not {value}.");
    }

    /// <summary>One unit of the last decimal that it shows, in density; null where nobody said.</summary>
    /// <exception cref="ImpossibleValueException">Not above 0, or coarser than 0.1.</exception>
    public double? DisplayStep
    {
        get => _displayStep;
        init => _displayStep = value is null or (> 0 and <= CoarsestStep)
            ? value
            : throw new ImpossibleValueException(
                $"The display step is a density above 0 and up to {CoarsestStep}, such as 0.01; not {value}.");
    }

    /// <summary>Its filters or its status, in the user's words; null where nobody said.</summary>
    public string? Filters { get => _filters; init => _filters = Words(value); }

    public string? SerialNumber { get => _serialNumber; init => _serialNumber = Words(value); }

    public string? Notes { get => _notes; init => _notes = Words(value); }

    /// <summary>When it was retired; null while it is in use.</summary>
    public DateTimeOffset? RetiredAt { get; init; }

    /// <summary>Who wrote this revision, when and why.</summary>
    public Revision Revision { get; init; }

    /// <summary>What differs from a revision before, each with its words before and after; empty words for nothing.</summary>
    public ImmutableArray<(string What, string Before, string After)> ChangesSince(Instrument before) =>
        [.. before.Said().Zip(Said()).Where(p => p.First.Value != p.Second.Value)
            .Select(p => (p.Second.What, p.First.Value, p.Second.Value))];

    /// <summary>All that is said of it, in the order in which it is shown.</summary>
    public ImmutableArray<(string What, string Value)> Said() =>
    [
        ("port", Port ?? ""),
        ("profile", Profile),
        ("rate", Baud is { } baud ? $"{Numbers.Whole(baud)} bit/s" : ""),
        ("display step", DisplayStep?.ToString(CultureInfo.InvariantCulture) ?? ""),
        ("filters or status", Filters ?? ""),
        ("serial number", SerialNumber ?? ""),
        ("notes", Notes ?? ""),
        ("retired", RetiredAt is { } at ? Numbers.Day(at) : ""),
    ];

    private static string? Words(string? text) => string.IsNullOrWhiteSpace(text) ? null : text.Trim();
}

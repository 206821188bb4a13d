namespace Acquire.Storage.Strips;

/// <summary>Which strips to list; what is null does not restrict. The newest revision of a strip decides.</summary>
public sealed record StripFilter
{
    /// <summary>All strips.</summary>
    public static StripFilter All { get; } = new();

    /// <summary>Only this lot, in any case.</summary>
    public string? LotCode { get; init; }

    /// <summary>Only this process line, in any case (A–Z).</summary>
    public string? Line { get; init; }

    /// <summary>Read at or after this time.</summary>
    public DateTimeOffset? From { get; init; }

    /// <summary>Read before this time.</summary>
    public DateTimeOffset? Before { get; init; }

    /// <summary>Only so many, the last ones read among those that the rest lets through.</summary>
    public int? Last { get; init; }
}

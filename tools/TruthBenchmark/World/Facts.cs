namespace TruthBenchmark.World;

/// <summary>How the aims of a lot came into the house.</summary>
internal enum Origin
{
    /// <summary>The reference strip was read at the instrument.</summary>
    Instrument,

    /// <summary>Somebody typed the mean of so many reads at the instrument.</summary>
    Typed,

    /// <summary>The maker's list of densities was typed.</summary>
    MakersList,
}

/// <summary>The reference of a lot as it was written down.</summary>
/// <param name="Reads">By patch, then read.</param>
/// <param name="ReadsBehind">How many reads stand behind a typed value.</param>
/// <param name="ListError">Standard uncertainty that the maker's list states; 0 for others.</param>
internal sealed record ReferenceFacts(
    DateTimeOffset At, Origin Origin, ImmutableArray<ImmutableArray<Shown>> Reads, int ReadsBehind = 1, double ListError = 0);

internal sealed record LotFacts(string Code, ReferenceFacts Reference);

/// <summary>A strip as it was written down.</summary>
internal sealed record StripFacts(DateTimeOffset At, string Lot, ImmutableArray<ImmutableArray<Shown>> Reads)
{
    public string? Bottle { get; init; }
}

/// <summary>A repeatability test: one strip read again and again.</summary>
internal sealed record TestFacts(DateTimeOffset At, ImmutableArray<ImmutableArray<Shown>> Reads);

/// <summary>A bottle of fresh developer.</summary>
internal sealed record BottleFacts(string Name, DateTimeOffset Mixed);

/// <summary>All that a user has in the end: numbers and dates, no truth.</summary>
internal sealed record House
{
    public required ImmutableArray<LotFacts> Lots { get; init; }

    public required ImmutableArray<StripFacts> Strips { get; init; }

    public ImmutableArray<TestFacts> Tests { get; init; } = [];

    public ImmutableArray<BottleFacts> Bottles { get; init; } = [];
}

internal static class Days
{
    private static readonly DateTimeOffset First = new(2026, 1, 5, 19, 0, 0, TimeSpan.Zero);

    public static DateTimeOffset At(double day) => First.AddDays(day);
}

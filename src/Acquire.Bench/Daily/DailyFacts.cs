using Acquire.Analysis.Life;
using Acquire.Bench.Trust;

namespace Acquire.Bench.Daily;

/// <summary>What the store knows that matters today.</summary>
public sealed record DailyFacts
{
    /// <summary>The moment.</summary>
    public required DateTimeOffset Now { get; init; }

    /// <summary>The process lines.</summary>
    public ImmutableArray<LineFacts> Lines { get; init; } = [];

    /// <summary>Bottles of developer in use.</summary>
    public ImmutableArray<BottleFacts> Bottles { get; init; } = [];

    /// <summary>The instruments that read the newest strips.</summary>
    public ImmutableArray<InstrumentFacts> Instruments { get; init; } = [];

    /// <summary>Lots whose strips are at hand or were used last.</summary>
    public ImmutableArray<LotFacts> Lots { get; init; } = [];

    /// <summary>Sessions that were broken off: what each reads, and the end of its id.</summary>
    public ImmutableArray<(string What, string Id)> Unfinished { get; init; } = [];
}

/// <summary>A bottle in use.</summary>
/// <param name="State">Its state by the books.</param>
/// <param name="Standing">Where it stands by the strips; null when no strips tell of its process.</param>
public sealed record BottleFacts(BottleState State, BottleStanding? Standing);

/// <summary>An instrument.</summary>
/// <param name="Profile">Its device profile.</param>
/// <param name="Check">Whether a calibration check is in force.</param>
/// <param name="HasRepeatability">Whether a repeatability test was ever made.</param>
public sealed record InstrumentFacts(string Profile, CheckStanding Check, bool HasRepeatability);

/// <summary>A lot of strips.</summary>
/// <param name="Code">Its code number.</param>
/// <param name="Left">Strips left; null when they are not counted.</param>
/// <param name="DaysToExpiry">Days to its last day; null when it is not known.</param>
public sealed record LotFacts(string Code, int? Left, int? DaysToExpiry);

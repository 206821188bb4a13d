using Acquire.Analysis.Gauge;

namespace Acquire.Analysis.Plausibility;

/// <summary>What is known of a strip before it is read.</summary>
/// <param name="Sheet">The process sheet in force.</param>
/// <param name="Layout">The patches in reading order.</param>
public sealed record StripKnowledge(ProcessSheet Sheet, StripLayout Layout)
{
    /// <summary>The lot's aims; empty when the lot's reference itself is read, and then only tests that need none apply.</summary>
    public ImmutableArray<Aim> Aims { get; init; } = [];

    /// <summary>How reads of the instrument repeat; where nothing is known, the assumption alone.</summary>
    public InstrumentKnowledge Instrument { get; init; } = InstrumentKnowledge.Of("", []);

    /// <summary>The strips of the line before, of the same process, in the order of time; empty where none are known.</summary>
    public ImmutableArray<StripRecord> Lately { get; init; } = [];

    /// <summary>Other lots of the same process and layout that are in the house.</summary>
    public ImmutableArray<OtherLot> OtherLots { get; init; } = [];

    /// <summary>How many reads follow each other without moving the strip; 1 when it is placed anew for each.</summary>
    public int ReadsPerPlacement { get; init; } = 1;

    /// <summary>Priors and thresholds.</summary>
    public PlausibilitySettings Settings { get; init; } = new();

    /// <summary>Standard deviation of a re-placed read at a density, in density.</summary>
    internal double RepeatabilityOf(Channel channel, double density) =>
        Math.Max(Instrument.At(channel, density).StandardDeviation, LeastRepeatability);

    // Reads that never differed leave nothing to weigh by.
    private const double LeastRepeatability = 0.0005;

    internal Aim? Aim(string patchKey, Channel channel) => Find(Aims, patchKey, channel);

    internal static Aim? Find(ImmutableArray<Aim> aims, string patchKey, Channel channel) =>
        aims.FirstOrDefault(a => a.Channel == channel && Keys.Same(a.PatchKey, patchKey));
}

/// <summary>A lot that the strip might be of instead.</summary>
/// <param name="Code">Its code number.</param>
public sealed record OtherLot(string Code, ImmutableArray<Aim> Aims);

/// <summary>When to ask. The chances are rough ("about one strip in a hundred"), the thresholds are set by
/// <c>tools/PlausibilityBenchmark</c>; common practice, no source.</summary>
public sealed record PlausibilitySettings
{
    /// <summary>Evidence from which a gross mistake is asked about, natural logarithm of odds. Default 3: 20 to 1.</summary>
    public double GrossThreshold { get; init; } = 3;

    /// <summary>Evidence from which a subtle mistake is asked about. Default 5: 150 to 1.</summary>
    public double SubtleThreshold { get; init; } = 5;

    /// <summary>Two readings closer than this cannot be of a strip placed anew. Default 1 s; zero where time stamps tell nothing.</summary>
    public TimeSpan QuickestPlacing { get; init; } = TimeSpan.FromSeconds(1);

    /// <summary>Scatter from strip to strip at one state of the process at LD, in density. Default 0.012.</summary>
    public double RunScatter { get; init; } = 0.012;
}

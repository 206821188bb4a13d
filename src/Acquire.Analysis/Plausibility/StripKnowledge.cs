namespace Acquire.Analysis.Plausibility;

/// <summary>What is known of a strip before it is read.</summary>
/// <param name="Sheet">The process sheet in force.</param>
/// <param name="Layout">The patches in reading order.</param>
public sealed record StripKnowledge(ProcessSheet Sheet, StripLayout Layout)
{
    /// <summary>The lot's aims; empty when the lot's reference itself is read, and then only tests that need none apply.</summary>
    public ImmutableArray<Aim> Aims { get; init; } = [];

    /// <summary>Standard deviation of re-placed reads in each channel, in density, from the instrument's repeatability test; a channel that
    /// is absent counts with <see cref="PlausibilitySettings.UsualRepeatability"/>.</summary>
    public ImmutableDictionary<Channel, double> Repeatability { get; init; } = ImmutableDictionary<Channel, double>.Empty;

    /// <summary>Other lots of the same process and layout that are in the house.</summary>
    public ImmutableArray<OtherLot> OtherLots { get; init; } = [];

    /// <summary>How many reads follow each other without moving the strip; 1 when it is placed anew for each.</summary>
    public int ReadsPerPlacement { get; init; } = 1;

    /// <summary>Priors and thresholds.</summary>
    public PlausibilitySettings Settings { get; init; } = new();

    /// <summary>The repeatability that counts for a channel, in density.</summary>
    internal double RepeatabilityOf(Channel channel) =>
        Repeatability.TryGetValue(channel, out var s) && s > 0 && double.IsFinite(s) ? s : Settings.UsualRepeatability;

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

    /// <summary>Repeatability of a re-placed read where none is known, in density. Default 0.008.</summary>
    public double UsualRepeatability { get; init; } = 0.008;

    /// <summary>Scatter from strip to strip at one state of the process at LD, in density. Default 0.012.</summary>
    public double RunScatter { get; init; } = 0.012;
}

namespace Acquire.Analysis.Plausibility;

/// <summary>
/// When to ask. The chances are rough ("about one strip in a hundred"), the thresholds are set by <c>tools/PlausibilityBenchmark</c>;
/// common practice, no source.
/// </summary>
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

using Acquire.Analysis.Control;
using Acquire.Analysis.Judgement;
using Acquire.Analysis.Uncertainty;

namespace Acquire.Analysis.Charts;

/// <summary>What is to be charted. Choosing the strips belongs to the caller.</summary>
/// <param name="Sheet">The newest process sheet: its parameters are charted, and its limits where strips do not bring their own.</param>
/// <param name="Strips">The strips, in any order, of that process.</param>
public sealed record ChartRequest(ProcessSheet Sheet, IReadOnlyList<StripPoint> Strips)
{
    /// <summary>What the strips are charted against.</summary>
    public ChartAxis Axis { get; init; } = ChartAxis.Date;

    /// <summary>Keys of the parameters to chart; empty for all.</summary>
    public ImmutableArray<string> Parameters { get; init; } = [];

    /// <summary>What happened meanwhile.</summary>
    public ImmutableArray<ChartEvent> Events { get; init; } = [];

    /// <summary>What was found to have moved.</summary>
    public ImmutableArray<DriftFinding> Findings { get; init; } = [];

    /// <summary>The verdict of a result, uncertainty counted in; null where none is to be shown.</summary>
    public Func<StripPoint, ParameterResult, Verdict?>? VerdictOf { get; init; }
}

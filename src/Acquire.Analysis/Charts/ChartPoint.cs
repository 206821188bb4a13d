using Acquire.Analysis.Control;
using Acquire.Analysis.Uncertainty;

namespace Acquire.Analysis.Charts;

/// <summary>One strip on one line of a chart. Densities are deviations from the aim in force at the time.</summary>
public sealed record ChartPoint
{
    /// <summary>
    /// Half the width of a whisker in standard uncertainties: it holds the true deviation with 95 %, taken as normal (GUM 6.3.3).
    /// </summary>
    public const double Coverage = 1.959963984540054;

    /// <summary>Id of the strip record.</summary>
    public required Guid StripId { get; init; }

    /// <summary>When it was processed.</summary>
    public required DateTimeOffset At { get; init; }

    /// <summary>Its place on the axis.</summary>
    public required double X { get; init; }

    /// <summary>Code number of its lot.</summary>
    public required string Lot { get; init; }

    /// <summary>The process line; null when not told.</summary>
    public string? Line { get; init; }

    /// <summary>The bottle; null when not told.</summary>
    public string? Bottle { get; init; }

    /// <summary>Deviation from aim.</summary>
    public required double Deviation { get; init; }

    /// <summary>Standard uncertainty of the deviation; null when not known.</summary>
    public double? StandardUncertainty { get; init; }

    /// <summary>Lower end of the 95 % whisker; the deviation itself when its uncertainty is not known. A spread is never below 0.</summary>
    public required double Lower { get; init; }

    /// <summary>Upper end of the 95 % whisker.</summary>
    public required double Upper { get; init; }

    /// <summary>The zone, by the limits that the strip was judged by; null without limits.</summary>
    public Zone? Zone { get; init; }

    /// <summary>The verdict, uncertainty counted in; null when none was asked for.</summary>
    public Verdict? Verdict { get; init; }

    /// <summary>The run rules that are broken at this strip.</summary>
    public ImmutableArray<RunRule> Signals { get; init; } = [];

    /// <summary>
    /// Points of one run are joined, in order; a new lot, another bottle on an axis of age, or a long pause begins another.
    /// </summary>
    public required int Run { get; init; }
}

/// <summary>A strip that is not on a line, and why.</summary>
/// <param name="StripId">Id of the strip record.</param>
/// <param name="At">When it was processed.</param>
/// <param name="X">Its place on the axis.</param>
/// <param name="Why">Why it has no deviation, for the user.</param>
public sealed record MissingPoint(Guid StripId, DateTimeOffset At, double X, string Why);

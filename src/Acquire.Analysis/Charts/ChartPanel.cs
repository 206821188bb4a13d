using Acquire.Analysis.Control;
using Acquire.Analysis.Gauge;
using Acquire.Analysis.Uncertainty;

namespace Acquire.Analysis.Charts;

/// <summary>One parameter, as a strip of chart across the page.</summary>
/// <param name="Parameter">The parameter, as the newest sheet states it.</param>
/// <param name="Range">From which deviation to which it goes; it holds 0, every limit, natural limit and
/// deviation; whiskers of poor readings may reach beyond.</param>
/// <param name="Limits">The limits in force, each from where to where on the axis.</param>
/// <param name="Lines">A line for each channel, in the order in which channels are listed.</param>
/// <param name="Findings">What was found to have moved, numbered over the whole chart.</param>
public sealed record ChartPanel(
    Parameter Parameter, ChartRange Range, ImmutableArray<ChartLimit> Limits, ImmutableArray<ChartLine> Lines,
    ImmutableArray<FindingMark> Findings)
{
    /// <summary>From where to where the natural limits of a line go; those of a spread not
    /// below 0, where no spread can be. Null when it has none.</summary>
    public static (double Lower, double Upper)? NaturalOf(Parameter parameter, ChartLine line) => line.Natural is { } natural
        ? (parameter.HasSign ? natural.Lower : Math.Max(0, natural.Lower), natural.Upper)
        : null;

    /// <summary>The same of one of its own lines.</summary>
    public (double Lower, double Upper)? NaturalOf(ChartLine line) => NaturalOf(Parameter, line);

    /// <summary>How many strips have a point in a zone.</summary>
    public int StripsIn(Zone zone) => Lines.SelectMany(l => l.Points).Where(p => p.Zone == zone).Select(p => p.StripId).Distinct().Count();
}

/// <summary>Which limit a line is.</summary>
public enum ChartLimitKind
{
    /// <summary>Past it: look for the cause.</summary>
    Action,

    /// <summary>Past it: stop.</summary>
    Control,
}

/// <summary>One side of a limit as a line on a chart.</summary>
/// <param name="Kind">Which limit.</param>
/// <param name="Value">The deviation it lies at.</param>
/// <param name="From">Where on the axis it begins.</param>
/// <param name="To">Where it ends.</param>
/// <param name="Source">Where its number comes from.</param>
/// <param name="Channels">The channels that it holds in; none where it holds in all lines of its panel.</param>
public sealed record ChartLimit(ChartLimitKind Kind, double Value, double From, double To, string Source, ImmutableArray<Channel> Channels);

/// <summary>A movement with its place.</summary>
/// <param name="X">The strip at which it most probably began.</param>
/// <param name="Number">Its number on this chart, from 1.</param>
/// <param name="Finding">What moved.</param>
public sealed record FindingMark(double X, int Number, DriftFinding Finding)
{
    /// <summary>What it is called on the chart: a letter, as events have numbers; behind z follows aa.</summary>
    public string Letter => LetterOf(Number);

    private static string LetterOf(int number) =>
        number <= 26 ? ((char)('a' + number - 1)).ToString() : LetterOf((number - 1) / 26) + LetterOf(((number - 1) % 26) + 1);
}

/// <summary>The strips of one parameter in one channel.</summary>
/// <param name="Channel">The channel; null for a spread over the colours.</param>
/// <param name="Points">The strips that have a deviation, by their place on the axis, then in time.</param>
/// <param name="Missing">The strips that have none.</param>
/// <param name="Natural">What the process does by itself, from the strips of the newest lot on the chart, in the order of time; null
/// when they are fewer than <see cref="LeastForNatural"/>.</param>
public sealed record ChartLine(
    Channel? Channel, ImmutableArray<ChartPoint> Points, ImmutableArray<MissingPoint> Missing, NaturalLimits? Natural)
{
    /// <summary>With fewer strips natural limits say next to nothing (common practice, no source).</summary>
    public const int LeastForNatural = 8;

    /// <summary>The points that are joined, run by run.</summary>
    public IEnumerable<ImmutableArray<ChartPoint>> Runs => Points.GroupBy(p => p.Run).Select(g => g.ToImmutableArray());
}

/// <summary>One strip on one line of a chart. Densities are deviations from the aim in force at the time.</summary>
public sealed record ChartPoint
{
    /// <summary>Half the width of a whisker in standard uncertainties: it holds the
    /// true deviation with 95 %, taken as normal (GUM 6.3.3).</summary>
    public const double Coverage = 1.959963984540054;

    /// <summary>Id of the strip record.</summary>
    public required Guid StripId { get; init; }

    /// <summary>When it was processed.</summary>
    public required DateTimeOffset At { get; init; }

    /// <summary>Its place on the axis, in the axis's unit (<see cref="ChartRange"/>).</summary>
    public required double X { get; init; }

    /// <summary>Code number of its lot.</summary>
    public required string Lot { get; init; }

    /// <summary>What of its uncertainty rests on an assumption.</summary>
    public Assumed RestsOnAssumption { get; init; }

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

    /// <summary>Points of one run are joined, in order; a new lot, another bottle
    /// on an axis of age, or a long pause begins another.</summary>
    public required int Run { get; init; }
}

/// <summary>A strip that is not on a line, and why.</summary>
/// <param name="StripId">Id of the strip record.</param>
/// <param name="At">When it was processed.</param>
/// <param name="X">Its place on the axis.</param>
/// <param name="Why">Why it has no deviation, for the user.</param>
public sealed record MissingPoint(Guid StripId, DateTimeOffset At, double X, string Why);

/// <summary>How panels are stacked.</summary>
public static class PanelOrder
{
    /// <summary>As the trade stacks them (training courses): from the densest patch at the top down to D-min, for colour negative
    /// retained silver, HD − LD, LD, D-min. Sheets list parameters from thin to dense, so that it is their order turned round; a
    /// spread stands right under what it is the spread of.</summary>
    public static ImmutableArray<Parameter> Of(IReadOnlyList<Parameter> listed)
    {
        var spreads = listed.ToLookup(p => p.OfParameterKey ?? "", StringComparer.OrdinalIgnoreCase);
        var stacked = spreads[""].Reverse().SelectMany(p => spreads[p.Key].Prepend(p)).ToList();

        // A spread whose parameter is not charted beside it goes to the bottom.
        return [.. stacked, .. listed.Except(stacked)];
    }
}

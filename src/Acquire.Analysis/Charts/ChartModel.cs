using Acquire.Analysis.Control;
using Acquire.Analysis.Judgement;
using Acquire.Analysis.Uncertainty;

namespace Acquire.Analysis.Charts;

/// <summary>The stretch of the date axis over which strips of one lot were used.</summary>
/// <param name="From">Where it begins.</param>
/// <param name="To">Where it ends: at the beginning of the next.</param>
/// <param name="Lot">Code number of the lot.</param>
public sealed record LotBand(double From, double To, string Lot);

/// <summary>A chart of deviations, a panel for each parameter and a line for each channel. Every output, on
/// paper, screen or terminal, is drawn from this one model.</summary>
public sealed record ChartModel
{
    /// <summary>What it is of.</summary>
    public required string Title { get; init; }

    /// <summary>What strips are charted against.</summary>
    public required ChartAxis Axis { get; init; }

    /// <summary>From where to where the axis goes.</summary>
    public required ChartRange Range { get; init; }

    /// <summary>The panels from top to bottom, see <see cref="PanelOrder"/>.</summary>
    public required ImmutableArray<ChartPanel> Panels { get; init; }

    /// <summary>The lots, in order; only on the date axis, as lots come into use by date.</summary>
    public ImmutableArray<LotBand> Lots { get; init; } = [];

    /// <summary>The events, in order; only on the date axis.</summary>
    public ImmutableArray<EventMark> Events { get; init; } = [];

    /// <summary>How many strips have a place on the axis.</summary>
    public required int Strips { get; init; }

    /// <summary>How many strips have none, because the books do not tell it.</summary>
    public required int WithoutPlace { get; init; }

    /// <summary>What the reader should know, a sentence each.</summary>
    public required ImmutableArray<string> Notes { get; init; }

    /// <summary>Makes the chart.</summary>
    /// <exception cref="Acquire.Domain.ImpossibleValueException">A parameter is asked for that the sheet does not have.</exception>
    public static ChartModel Of(ChartRequest request)
    {
        return new ChartBuilder(request).Build();
    }
}

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

/// <summary>Something dated that belongs on a chart.</summary>
/// <param name="At">When it happened.</param>
/// <param name="Text">What happened, in the user's words.</param>
/// <param name="Kind">What kind of thing, in a word or two, such as <c>new mix</c>.</param>
public sealed record ChartEvent(DateTimeOffset At, string Text, string Kind);

/// <summary>An event with its place.</summary>
/// <param name="X">Its place on the date axis.</param>
/// <param name="Number">Its number on this chart, from 1, by which the list under the chart explains it.</param>
/// <param name="Event">What happened.</param>
public sealed record EventMark(double X, int Number, ChartEvent Event);

using Acquire.Analysis.Charts;
using Acquire.Analysis.Control;
using Acquire.Analysis.Judgement;
using Acquire.Analysis.Uncertainty;

namespace Acquire.Web.Documents;

/// <summary>
/// A chart for other programs: every number that the drawings show, unrounded. Names are a contract; new ones may be added.
/// </summary>
internal static class ChartJson
{
    public static ChartDocument Of(ChartModel model) => new()
    {
        Title = model.Title,
        Axis = new ChartScaleDocument
        {
            Axis = model.Axis,
            Title = model.Axis.Title(),
            Unit = model.Axis.Unit(),
            From = Place(model.Axis, model.Range.Low),
            To = Place(model.Axis, model.Range.High),
        },
        Strips = model.Strips,
        WithoutPlace = model.WithoutPlace,
        Lots = model.Lots.Select(b => new ChartLotDocument { Lot = b.Lot, From = Place(model.Axis, b.From), To = Place(model.Axis, b.To) }),
        Events = model.Events.Select(e => new ChartEventDocument
        {
            Number = e.Number,
            X = Place(model.Axis, e.X),
            At = e.Event.At,
            Kind = e.Event.Kind,
            Text = e.Event.Text,
        }),
        Panels = model.Panels.Select(p => Panel(model, p)),
        Notes = model.Notes,
    };

    /// <summary>A date as a date of the local clock, a number as a number.</summary>
    private static object Place(ChartAxis axis, double x) => axis == ChartAxis.Date ? ChartAxes.MomentOf(x) : x;

    private static ChartPanelDocument Panel(ChartModel model, ChartPanel panel) => new()
    {
        Key = panel.Parameter.Key,
        Name = panel.Parameter.Name,
        StandsFor = panel.Parameter.StandsFor,
        Unit = panel.Parameter.Unit,
        From = panel.Range.Low,
        To = panel.Range.High,
        Strips = panel.Lines.SelectMany(l => l.Points).Select(p => p.StripId).Distinct().Count(),
        PastAction = panel.StripsIn(Zone.Action),
        Out = panel.StripsIn(Zone.Out),
        Limits = panel.Limits.Select(l => new ChartPanelLimitDocument
        {
            Kind = l.Kind,
            Value = l.Value,
            From = Place(model.Axis, l.From),
            To = Place(model.Axis, l.To),
            Source = l.Source,
            Channels = l.Channels.IsEmpty ? null : l.Channels.Select(c => c.Word()),
        }),
        Lines = panel.Lines.Select(l => new ChartPanelLineDocument
        {
            Channel = l.Channel?.Word(),
            Natural = Natural(panel, l),
            Points = l.Points.Select(q => new ChartPanelLinePointDocument
            {
                StripId = q.StripId,
                At = q.At,
                X = Place(model.Axis, q.X),
                Deviation = q.Deviation,
                Uncertainty = q.StandardUncertainty,
                RestsOnAssumed = AssumptionLine.Code(q.RestsOnAssumption),
                Lower = q.Lower,
                Upper = q.Upper,
                Zone = q.Zone,
                Verdict = q.Verdict,
                Signals = q.Signals,
                Lot = q.Lot,
                Line = q.Line,
                Bottle = q.Bottle,
                Run = q.Run,
            }),
            Missing = l.Missing.Select(
                m => new ChartPanelLineMissingDocument { StripId = m.StripId, At = m.At, X = Place(model.Axis, m.X), Why = m.Why }),
        }),
        Findings = panel.Findings.Select(f => new ChartPanelFindingDocument
        {
            Label = f.Letter,
            X = Place(model.Axis, f.X),
            BeganAtStrip = f.Finding.BeganAtStrip,
            Channels = f.Finding.Channels.Select(c => c.Word()),
            Shape = f.Finding.Shape,
            Step = f.Finding.Step,
            Began = f.Finding.Began,
            Earliest = f.Finding.Earliest,
            Latest = f.Finding.Latest,
            Noticed = f.Finding.Noticed,
            Sentence = f.Finding.Sentence,
        }),
    };

    private static ChartNaturalDocument? Natural(
        ChartPanel panel, ChartLine line) => panel.NaturalOf(line) is not { } drawn ? null : new ChartNaturalDocument
    {
        Centre = line.Natural!.Centre,
        Lower = drawn.Lower,
        Upper = drawn.Upper,
        Sigma = line.Natural.Sigma,
        MeanMovingRange = line.Natural.MeanMovingRange,
        Count = line.Natural.Count,
        Estimator = "mean moving range / d2",
    };
}

internal sealed record ChartDocument
{
    public required string Title { get; init; }
    public required ChartScaleDocument Axis { get; init; }
    public required int Strips { get; init; }
    public required int WithoutPlace { get; init; }
    public required IEnumerable<ChartLotDocument> Lots { get; init; }
    public required IEnumerable<ChartEventDocument> Events { get; init; }
    public required IEnumerable<ChartPanelDocument> Panels { get; init; }
    public required ImmutableArray<string> Notes { get; init; }
}

internal sealed record ChartScaleDocument
{
    public required ChartAxis Axis { get; init; }
    public required string Title { get; init; }
    public required string Unit { get; init; }
    public required object From { get; init; }
    public required object To { get; init; }
}

internal sealed record ChartLotDocument
{
    public required string Lot { get; init; }
    public required object From { get; init; }
    public required object To { get; init; }
}

internal sealed record ChartEventDocument
{
    public required int Number { get; init; }
    public required object X { get; init; }
    public required DateTimeOffset At { get; init; }
    public required string Kind { get; init; }
    public required string Text { get; init; }
}

internal sealed record ChartPanelDocument
{
    public required string Key { get; init; }
    public required string Name { get; init; }
    public required string StandsFor { get; init; }
    public required string Unit { get; init; }
    public required double From { get; init; }
    public required double To { get; init; }
    public required int Strips { get; init; }
    public required int PastAction { get; init; }
    public required int Out { get; init; }
    public required IEnumerable<ChartPanelLimitDocument> Limits { get; init; }
    public required IEnumerable<ChartPanelLineDocument> Lines { get; init; }
    public required IEnumerable<ChartPanelFindingDocument> Findings { get; init; }
}

internal sealed record ChartPanelLimitDocument
{
    public required ChartLimitKind Kind { get; init; }
    public required double Value { get; init; }
    public required object From { get; init; }
    public required object To { get; init; }
    public required string Source { get; init; }
    public required IEnumerable<string>? Channels { get; init; }
}

internal sealed record ChartPanelLineDocument
{
    public required string? Channel { get; init; }
    public required ChartNaturalDocument? Natural { get; init; }
    public required IEnumerable<ChartPanelLinePointDocument> Points { get; init; }
    public required IEnumerable<ChartPanelLineMissingDocument> Missing { get; init; }
}

internal sealed record ChartPanelLinePointDocument
{
    public required Guid StripId { get; init; }
    public required DateTimeOffset At { get; init; }
    public required object X { get; init; }
    public required double Deviation { get; init; }
    public required double? Uncertainty { get; init; }
    public required string? RestsOnAssumed { get; init; }
    public required double Lower { get; init; }
    public required double Upper { get; init; }
    public required Zone? Zone { get; init; }
    public required Verdict? Verdict { get; init; }
    public required ImmutableArray<RunRule> Signals { get; init; }
    public required string Lot { get; init; }
    public required string? Line { get; init; }
    public required string? Bottle { get; init; }
    public required int Run { get; init; }
}

internal sealed record ChartPanelLineMissingDocument
{
    public required Guid StripId { get; init; }
    public required DateTimeOffset At { get; init; }
    public required object X { get; init; }
    public required string Why { get; init; }
}

internal sealed record ChartPanelFindingDocument
{
    public required string Label { get; init; }
    public required object X { get; init; }
    public required Guid BeganAtStrip { get; init; }
    public required IEnumerable<string> Channels { get; init; }
    public required DriftShape Shape { get; init; }
    public required double Step { get; init; }
    public required DateTimeOffset Began { get; init; }
    public required DateTimeOffset Earliest { get; init; }
    public required DateTimeOffset Latest { get; init; }
    public required DateTimeOffset Noticed { get; init; }
    public required string Sentence { get; init; }
}

internal sealed record ChartNaturalDocument
{
    public required double Centre { get; init; }
    public required double Lower { get; init; }
    public required double Upper { get; init; }
    public required double Sigma { get; init; }
    public required double MeanMovingRange { get; init; }
    public required int Count { get; init; }
    public required string Estimator { get; init; }
}

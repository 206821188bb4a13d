using Acquire.Analysis.Charts;
using Acquire.Analysis.Judgement;

namespace Acquire.Rendering.Charts;

/// <summary>
/// A chart for other programs: every number that the drawings show, unrounded. Names are a contract; new ones may be added.
/// </summary>
internal static class ChartJson
{
    public static object Of(ChartModel model) => new
    {
        model.Title,
        Axis = new
        {
            model.Axis,
            Title = model.Axis.Title(),
            Unit = model.Axis.Unit(),
            From = Place(model.Axis, model.Range.Low),
            To = Place(model.Axis, model.Range.High),
        },
        model.Strips,
        model.WithoutPlace,
        Lots = model.Lots.Select(b => new { b.Lot, From = Place(model.Axis, b.From), To = Place(model.Axis, b.To) }),
        Events = model.Events.Select(e => new { e.Number, X = Place(model.Axis, e.X), e.Event.At, e.Event.Kind, e.Event.Text }),
        Panels = model.Panels.Select(p => Panel(model, p)),
        model.Notes,
    };

    /// <summary>A date as a date of the local clock, a number as a number.</summary>
    private static object Place(ChartAxis axis, double x) => axis == ChartAxis.Date ? ChartAxes.MomentOf(x) : x;

    private static object Panel(ChartModel model, ChartPanel panel) => new
    {
        panel.Parameter.Key,
        panel.Parameter.Name,
        panel.Parameter.StandsFor,
        panel.Parameter.Unit,
        From = panel.Range.Low,
        To = panel.Range.High,
        Strips = panel.Lines.SelectMany(l => l.Points).Select(p => p.StripId).Distinct().Count(),
        PastAction = ChartWords.Past(panel.Lines.SelectMany(l => l.Points), Zone.Action),
        Out = ChartWords.Past(panel.Lines.SelectMany(l => l.Points), Zone.Out),
        Limits = panel.Limits.Select(l => new { l.Kind, l.Value, From = Place(model.Axis, l.From), To = Place(
            model.Axis, l.To), l.Source, Channels = l.Channels.IsEmpty ? null : l.Channels.Select(c => c.Word()) }),
        Lines = panel.Lines.Select(l => new
        {
            Channel = l.Channel?.Word(),
            Natural = Natural(panel, l),
            Points = l.Points.Select(q => new
            {
                q.StripId,
                q.At,
                X = Place(model.Axis, q.X),
                q.Deviation,
                Uncertainty = q.StandardUncertainty,
                RestsOnAssumed = AssumptionLine.Code(q.RestsOnAssumption),
                q.Lower,
                q.Upper,
                q.Zone,
                q.Verdict,
                q.Signals,
                q.Lot,
                q.Line,
                q.Bottle,
                q.Run,
            }),
            Missing = l.Missing.Select(m => new { m.StripId, m.At, X = Place(model.Axis, m.X), m.Why }),
        }),
        Findings = panel.Findings.Select(f => new
        {
            Label = ChartWords.Letter(f.Number),
            X = Place(model.Axis, f.X),
            f.Finding.BeganAtStrip,
            Channels = f.Finding.Channels.Select(c => c.Word()),
            f.Finding.Shape,
            f.Finding.Step,
            f.Finding.Began,
            f.Finding.Earliest,
            f.Finding.Latest,
            f.Finding.Noticed,
            f.Finding.Sentence,
        }),
    };

    private static object? Natural(ChartPanel panel, ChartLine line) => panel.NaturalOf(line) is not { } drawn ? null : new
    {
        line.Natural!.Centre,
        drawn.Lower,
        drawn.Upper,
        line.Natural.Sigma,
        line.Natural.MeanMovingRange,
        line.Natural.Count,
        Estimator = "mean moving range / d2",
    };
}

using Acquire.Analysis.Charts;
using Acquire.Analysis.Control;
using Acquire.Analysis.Uncertainty;

namespace Acquire.Rendering.Charts;

/// <summary>The words that all charts share.</summary>
internal static class ChartWords
{
    /// <summary>A deviation as charts write it: a spread has no sign.</summary>
    public static string Value(ChartPanel panel, double value) => panel.Parameter.Written(value);

    /// <summary>A limit with its sign, to two digits or as many as it has.</summary>
    public static string Limit(double value) => value.ToString("+0.00##;-0.00##;0.00", CultureInfo.InvariantCulture);

    /// <summary>What a limit is called beside its line: its kind, and the letters of the channels where it does not hold in all.</summary>
    public static string Name(ChartLimit limit) => (limit.Kind == ChartLimitKind.Control ? "control" : "action") + Letters(limit);

    /// <summary>The letters of the channels that a limit holds in, each after a blank; empty where it holds in all.</summary>
    public static string Letters(ChartLimit limit) => string.Concat(limit.Channels.Select(c => " " + c.Letter()));

    /// <summary>How many signs <see cref="Letters"/> takes at most, for which a chart leaves room beside its panels.</summary>
    public static int RoomForLetters(ChartModel model) =>
        model.Panels.SelectMany(p => p.Limits).Select(l => Letters(l).Length).DefaultIfEmpty(0).Max();

    /// <summary>Everything about one point in a line.</summary>
    public static string Point(ChartPanel panel, ChartLine line, ChartPoint point)
    {
        var u = point.StandardUncertainty is { } uncertainty ? string.Create(CultureInfo.InvariantCulture, $" ±{uncertainty:0.000}") : "";
        var signals = point.Signals.IsEmpty ? "" : "; " + string.Join(", ", point.Signals.Select(r => r.Word()));
        return $"{Numbers.Moment(point.At)}: {panel.Parameter.Name}{Channel(line.Channel)} {Value(panel, point.Deviation)}{u}, "
            + $"{Zone(point)}{signals}; "
            + $"lot {point.Lot}{Named("line", point.Line)}{Named("bottle", point.Bottle)}, strip {StripId.ShortForm(point.StripId)}";
    }

    /// <summary>The zone, and the verdict where there is one.</summary>
    public static string Zone(ChartPoint point) => point.Zone.Word() + (point.Verdict is { } verdict ? $" ({verdict.Word()})" : "");

    /// <summary>A panel in a sentence: how many strips, how many of them past a limit, where the latest lies.</summary>
    public static string Summary(ChartPanel panel)
    {
        var points = panel.Lines.SelectMany(l => l.Points).ToList();
        var strips = points.Select(p => p.StripId).Distinct().Count();
        if (strips == 0)
        {
            return $"{panel.Parameter.Name}: no strip.";
        }

        var latest =
            panel.Lines.Where(l => !l.Points.IsEmpty).Select(l => (Line: l, Point: l.Points.MaxBy(p => (p.At, p.StripId))!)).ToList();
        var last =
            string.Join(", ", latest.Select(l => $"{(l.Line.Channel is { } c ? c.Word() + " " : "")}{Value(panel, l.Point.Deviation)}"));
        var (action, outside) = (panel.StripsIn(Domain.Processes.Zone.Action), panel.StripsIn(Domain.Processes.Zone.Out));
        var zones = points.TrueForAll(p => p.Zone is null) ? "" : action + outside == 0 ? ", all inside"
            : string.Create(CultureInfo.InvariantCulture, $", {action} past the action limit, {outside} out");
        return $"{panel.Parameter.Name}: {Numbers.Count(strips, "strip")}{zones}; latest {last}.";
    }

    /// <summary>Natural limits in a line; null when no line of the panel has any.</summary>
    public static string? Natural(ChartPanel panel)
    {
        var natural = panel.Lines
            .Select(l => panel.NaturalOf(l) is { } n
                ? $"{(l.Channel is null ? "" : ChartLook.Of(l.Channel).Letter + " ")}{Value(panel, n.Lower)} … {Value(panel, n.Upper)} "
                    + $"of {l.Natural!.Count.ToString(CultureInfo.InvariantCulture)}"
                : null)
            .OfType<string>()
            .ToList();
        return natural.Count == 0 ? null : "natural limits " + string.Join(", ", natural);
    }

    /// <summary>An event as the list under the chart has it.</summary>
    public static string Event(EventMark mark) =>
        string.Create(CultureInfo.InvariantCulture, $"{mark.Number}  {Numbers.Day(mark.Event.At)} {mark.Event.Kind}: {mark.Event.Text}");

    /// <summary>A movement as the list under the chart has it.</summary>
    public static string Finding(FindingMark mark) => $"{mark.Letter}  {mark.Finding.Sentence}";

    /// <summary>How many strips, and from when to when.</summary>
    public static string Extent(ChartModel model)
    {
        var times =
            model.Panels.SelectMany(p => p.Lines).SelectMany(l => l.Points.Select(q => q.At).Concat(l.Missing.Select(m => m.At))).ToList();
        return times.Count == 0 ? "no strips" : times.Min().Date == times.Max().Date
            ? $"{Numbers.Count(model.Strips, "strip")}, {Numbers.Day(times.Min())}"
            : $"{Numbers.Count(model.Strips, "strip")}, {Numbers.Day(times.Min())} … {Numbers.Day(times.Max())}";
    }

    private static string Channel(Channel? channel) => channel is { } c ? " " + c.Word() : "";

    private static string Named(string what, string? name) => name is null ? "" : $", {what} {name}";
}

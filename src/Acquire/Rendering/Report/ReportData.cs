using Acquire.Analysis.Control;
using Acquire.Analysis.Judgement;
using Acquire.Bench.Reports;
using Acquire.Rendering.Strips;

namespace Acquire.Rendering.Report;

/// <summary>Every strip of the report with its numbers; points of the charts lead here.</summary>
internal static class ReportData
{
    public static void Write(HtmlWriter page, DarkroomReport report)
    {
        ReportHtml.Begin(page, "data");
        var parameters = report.History.Sheet.Parameters.Where(p => report.History.Strips.Any(s => Of(s, p).Any(r => r.OnStrip))).ToList();
        page.Table(
            "Every strip, oldest first: deviations from aim ± standard uncertainty; 'action' and 'out' tell what is past a limit by plain comparison",
            ["ran\nstrip", "lot\nline\nbottle", .. parameters.Select(p => (HtmlWriter.Cell)p.Name), "zone\nverdict"],
            report.History.Strips.Select(s => ((string?)ReportWords.Anchor(s.StripId), Row(s, parameters))),
            "data");
        page.Paragraph("R, G, B stand for red, green, blue, V for visual. A dash: not told, or not known.", "soft");
    }

    private static IReadOnlyList<HtmlWriter.Cell> Row(StripPoint strip, List<Parameter> parameters)
    {
        var (zone, verdict) = (strip.Judgement.Overall, strip.Judgement.Results.Max(r => r.Verdict?.Verdict));
        return
        [
            $"{ReportWords.Moment(strip.At)}\n{StripId.ShortForm(strip.StripId)}",
            $"{strip.Lot}\n{strip.Line ?? ReportWords.None}\n{strip.Bottle ?? ReportWords.None}{(strip.AgeDays is { } age ? string.Create(CultureInfo.InvariantCulture, $", {age:0.#} d") : "")}",
            .. parameters.Select(p => new HtmlWriter.Cell(
                string.Join('\n', Of(strip, p).Select(Value)) is { Length: > 0 } text ? text : ReportWords.None, ReportWords.Class(Of(strip, p).Max(r => r.Zone)))),
            new HtmlWriter.Cell($"{ZoneWord.Of(zone)}\n{ReportWords.Verdict(verdict)}", ReportWords.Class(zone) is { Length: > 0 } cls ? cls : ReportWords.Class(verdict)),
        ];
    }

    private static IEnumerable<ParameterResult> Of(StripPoint strip, Parameter parameter) => strip.Judgement.Results.Where(r => r.Parameter.Key == parameter.Key);

    private static string Value(ParameterResult result) => string.Concat(
        result.Channel is { } channel ? channel.Letter() + " " : "",
        ReportWords.Deviation(result),
        result.Deviation is null ? "" : " " + ReportWords.Uncertainty(result),
        result.Zone is Zone.Action or Zone.Out ? " " + ZoneWord.Of(result.Zone) : "");
}

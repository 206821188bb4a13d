using Acquire.Analysis.Control;
using Acquire.Analysis.Judgement;
using Acquire.Analysis.Uncertainty;
using Acquire.Bench.Reports;

namespace Acquire.Rendering.Report;

/// <summary>Every strip of the report with its numbers; points of the charts lead here.</summary>
internal static class ReportData
{
    public static void Write(HtmlWriter page, DarkroomReport report)
    {
        ReportHtml.Begin(page, "data");
        var parameters = report.History.Sheet.Parameters.Where(p => report.History.Strips.Any(s => Of(s, p).Any(r => r.OnStrip))).ToList();
        page.Table(
            "Every strip, oldest first: deviations from aim ± standard uncertainty; "
            + "'action' and 'out' tell what is past a limit by plain comparison",
            ["ran\nstrip", "lot\nline\nbottle", .. parameters.Select(p => (HtmlWriter.Cell)p.Name), "zone\nverdict"],
            report.History.Strips.Select(s => ((string?)ReportWords.Anchor(s.StripId), Row(s, parameters))),
            "data");
        page.Paragraph("R, G, B stand for red, green, blue, V for visual. A dash: not told, or not known.", "soft");
    }

    private static IReadOnlyList<HtmlWriter.Cell> Row(StripPoint strip, List<Parameter> parameters)
    {
        var (zone, verdict) = (strip.Judgement.Overall, strip.Judgement.Verdict);
        return
        [
            $"{Numbers.Moment(strip.At)}\n{StripId.ShortForm(strip.StripId)}",
            $"{strip.Lot}\n{strip.Line ?? ReportWords.None}\n{strip.Bottle ?? ReportWords.None}"
                    + (strip.AgeDays is { } age ? string.Create(CultureInfo.InvariantCulture, $", {age:0.#} d") : ""),
            .. parameters.Select(p => new HtmlWriter.Cell(
                string.Join('\n', Of(strip, p).Select(Value)) is { Length: > 0 } text ? text : ReportWords.None,
                ReportWords.Class(Of(strip, p).Max(r => r.Zone)))),
            new HtmlWriter.Cell(
                $"{zone.Word()}\n{verdict?.Word() ?? "no verdict"}",
                ReportWords.Class(zone) is { Length: > 0 } cls ? cls : ReportWords.Class(verdict)),
        ];
    }

    private static IEnumerable<ParameterResult> Of(StripPoint strip, Parameter parameter) =>
        strip.Judgement.Results.Where(r => r.Parameter.Key == parameter.Key);

    private static string Value(ParameterResult result) => string.Concat(
        result.Channel is { } channel ? channel.Letter() + " " : "",
        ReportWords.Deviation(result),
        result.Deviation is null ? "" : " " + ReportWords.Uncertainty(result),
        result.Zone is Zone.Action or Zone.Out ? " " + result.Zone.Word() : "");
}

/// <summary>How the numbers were made, short.</summary>
internal static class ReportMethod
{
    public static void Write(HtmlWriter page, DarkroomReport report)
    {
        ReportHtml.Begin(page, "made");
        page.List(
        [
            $"Densities are status {report.History.Sheet.Status}. A value is the mean of the reads that count; an aim is the mean of "
            + "the lot's reference strip plus its correction factors; a deviation is value minus aim.",
            "± u is the standard uncertainty of a deviation (JCGM 100): scatter of reads, display step, what the aim itself rests on, "
            + "and zero and slope where no one calibration check covers strip and reference.",
            "A zone is the plain comparison with the limits. A verdict counts the uncertainty in (JCGM 106): in or out of control only "
            + "where the probability asked for is reached, undecided otherwise.",
            "Movements are looked for in each line by itself, with scores that need no known level (self-starting), averages, sums and "
            + "run rules; each is looked into before it is called one, with the resemblance of successive strips allowed for, so that "
            + "in sixty strips in which nothing happens at most one process in twenty is said to have moved.",
            "Causes are weighed against each other by how well they fit the densities: the known faults, one or two at once, mistakes of "
            + "reading, strips that do not belong to their aims, something else, and nothing at all; what the books tell weighs on them.",
            "Life weighs a straight way with age against ways that bend, with use, storage, line and method taken out and each bottle and "
            + "lot with a level of its own; the aims' own uncertainty counts, and the interval allows for every parameter that was looked "
            + "at. What lies beyond the oldest strip is said only as what comes if it goes on like this.",
        ]);
        page.Heading("Where the limits come from");
        page.List(
            from parameter in report.History.Sheet.Parameters
            from source in parameter.LimitSources
            group parameter.Name by source into g
            select $"{Numbers.Names([.. g.Distinct()])}: {g.Key}");
    }
}

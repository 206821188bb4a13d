using Acquire.Bench.Reports;
using Acquire.Rendering.Charts;

namespace Acquire.Rendering.Report;

/// <summary>
/// A report as one page that needs nothing else: no scripts, no other files, nothing fetched; made for screens and for paper.
/// </summary>
internal static class ReportHtml
{
    private const int WideChart = 720, NarrowChart = 340;

    private static readonly (string Id, string Heading)[] Contents =
    [
        ("state", "State"), ("charts", "Charts"), ("findings", "What moved"), ("causes", "What may be behind it"),
        ("life", "Life of the developer"),
        ("trust", "Trust in the instrument"), ("books", "Books"), ("made", "How the numbers were made"), ("data", "Every strip"),
    ];

    /// <param name="paper">Size of the paper, as CSS names it; null for whatever the printer has.</param>
    public static string Of(DarkroomReport report, string? paper = null)
    {
        var page = new HtmlWriter();
        page.Raw($"<header><h1>{HtmlWriter.Escape(report.Title)}</h1>");
        page.Paragraph(
            $"Report of control strips, made {Numbers.Moment(report.MadeAt)} of {Numbers.Count(report.History.Strips.Length, "strip")}"
            + (report.History.LeftOut > 0 ? string.Create(
                CultureInfo.InvariantCulture,
                $"; {report.History.LeftOut} more left out, as they were read without aims or are second readings") : "")
            + (report.History.OfOtherProcesses > 0
                ? $"; {Numbers.Count(report.History.OfOtherProcesses, "strip")} of other processes left out"
                : "") + ".",
            "soft");
        page.Raw(
            "</header><nav aria-label=\"Contents\"><ul>"
            + string.Concat(Contents.Select(c => $"<li><a href=\"#{c.Id}\">{c.Heading}</a></li>"))
            + "</ul></nav><main>");
        ReportState.Write(page, report);
        Charts(page, report);
        ReportFindings.Write(page, report);
        ReportCauses.Write(page, report);
        ReportLife.Write(page, report);
        ReportTrust.Write(page, report);
        ReportBooks.Write(page, report);
        ReportMethod.Write(page, report);
        ReportData.Write(page, report);
        page.Raw("</main>");
        return page.Page("Report: " + report.Title, paper);
    }

    public static void Begin(HtmlWriter page, string id) => page.Section(id, Contents.Single(c => c.Id == id).Heading);

    /// <summary>The chart twice: one drawn for wide screens and paper, one for small screens; the style shows one of them.</summary>
    private static void Charts(HtmlWriter page, DarkroomReport report)
    {
        Begin(page, "charts");
        foreach (var (width, cls) in new[] { (WideChart, "wide-screen"), (NarrowChart, "small-screen") })
        {
            page.Raw(
                $"<div class=\"chart\"><div class=\"{cls}\">"
            + ChartSvg.Of(report.Chart, width, id => "#" + ReportWords.Anchor(id), cls)
            + "</div></div>");
        }
    }
}

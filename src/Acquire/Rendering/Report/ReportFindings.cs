using Acquire.Bench.Reports;

namespace Acquire.Rendering.Report;

/// <summary>What moved, and what makes that less sure.</summary>
internal static class ReportFindings
{
    public static void Write(HtmlWriter page, DarkroomReport report)
    {
        ReportHtml.Begin(page, "findings");
        var isOneLine = report.History.Strips.Select(s => s.Line).Distinct(StringComparer.OrdinalIgnoreCase).Count() == 1;
        string Line(LineFinding finding) => (isOneLine ? "" : $"{finding.Line ?? "without a line"}: ") + finding.Finding.Sentence;
        var (clear, notices) = (report.Findings.Where(f => !f.Finding.IsNotice).ToList(), report.Findings.Where(f => f.Finding.IsNotice).ToList());
        if (clear.Count == 0)
        {
            page.Paragraph(report.History.Strips.Length < 6
                ? $"Nothing was found to have moved; {Numbers.Count(report.History.Strips.Length, "strip")} can hardly show it."
                : "Nothing was found to have moved.");
        }

        page.List(clear.Select(Line));
        if (notices.Count > 0)
        {
            page.Heading("To watch");
            page.List(notices.Select(Line));
        }

        if (!report.FindingNotes.IsEmpty)
        {
            page.Heading("What makes this less sure");
            page.List(report.FindingNotes);
        }
    }
}

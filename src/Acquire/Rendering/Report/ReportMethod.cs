using Acquire.Bench.Reports;

namespace Acquire.Rendering.Report;

/// <summary>How the numbers were made, short.</summary>
internal static class ReportMethod
{
    public static void Write(HtmlWriter page, DarkroomReport report)
    {
        ReportHtml.Begin(page, "made");
        page.List(
        [
            $"Densities are status {report.History.Sheet.Status}. A value is the mean of the reads that count; an aim is the mean of the lot's reference strip plus its correction factors; a deviation is value minus aim.",
            "± u is the standard uncertainty of a deviation (JCGM 100): scatter of reads, display step, what the aim itself rests on, and zero and slope where no one calibration check covers strip and reference.",
            "A zone is the plain comparison with the limits. A verdict counts the uncertainty in (JCGM 106): in or out of control only where the probability asked for is reached, undecided otherwise.",
            "Movements are looked for in each line by itself, with scores that need no known level (self-starting), averages, sums and run rules; each is looked into before it is called one.",
            "Causes are weighed against fault signatures of the process, with nothing at all as one of them; what the books tell weighs on them.",
            "Life is a straight line through age, with use, storage, line and method taken out, and each bottle and lot with a level of its own; the interval is Fieller's.",
        ]);
        page.Heading("Where the limits come from");
        page.List(
            from parameter in report.History.Sheet.Parameters
            from source in parameter.LimitSources
            group parameter.Name by source into g
            select $"{ReportWords.Names([.. g.Distinct()])}: {g.Key}");
    }
}

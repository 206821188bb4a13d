using Acquire.Analysis.Causes;
using Acquire.Bench.Causes;
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
        var (clear, notices) =
            (report.Findings.Where(f => !f.Finding.IsNotice).ToList(), report.Findings.Where(f => f.Finding.IsNotice).ToList());
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

/// <summary>What may be behind the last strip that was not in control, and what to do, in order.</summary>
internal static class ReportCauses
{
    private const int MostOfFamily = 3;

    public static void Write(HtmlWriter page, DarkroomReport report)
    {
        ReportHtml.Begin(page, "causes");
        if (report.Causes is not { } causes)
        {
            page.Paragraph(report.IsOfOneStrip
                ? "This strip is in control, so there is no cause to look for."
                : "Every strip that could be judged is in control, so there is no cause to look for.");
            return;
        }

        page.Paragraph($"This is about strip {StripId.ShortForm(causes.Strip.StripId)} of {Numbers.Moment(causes.Strip.At)}, the last "
            + "that was past a limit or undecided.");
        if (causes.Study.WhyNone is { } why)
        {
            page.Paragraph(why);
        }
        else if (causes.Study.NothingHappened)
        {
            page.Paragraph($"The usual scatter from strip to strip explains it well enough "
                + $"({Numbers.Tenths(causes.Study.NothingProbability)}): run a second strip before anything is changed.");
        }
        else
        {
            Ranking(page, causes.Study);
        }

        if (!causes.Study.Steps.IsEmpty)
        {
            page.Heading("What to do, in this order");
            page.List(causes.Study.Steps, isOrdered: true);
        }

        page.Raw("<div class=\"box\">");
        page.Paragraph("Near the solutions: goggles, gloves and an apron; good ventilation; acid into water, never water into acid; "
            + "keep bleach, fixer and developer apart; "
            + "no food or drink; water and mains leads apart. The safety data sheet of each product rules, "
                + "and so do local rules for what is poured away.");
        page.Raw("</div>");
    }

    private static void Ranking(HtmlWriter page, CauseStudy study)
    {
        page.Paragraph(string.Join(' ', CauseWords.Pairs(study).Prepend(CauseWords.First(study))));
        page.Paragraph($"A ranking by what fits the densities and the books, not an oracle. Usual scatter alone: "
            + $"{Numbers.Tenths(study.NothingProbability)}.");
        page.Table(
            "Possible causes, the likeliest first",
            ["cause", HtmlWriter.Cell.Number("probability"), "what speaks for it", "what speaks against it"],
            study.Groups.SelectMany(g => g.Causes.Take(MostOfFamily)).Select(c => (IReadOnlyList<HtmlWriter.Cell>)
            [
                $"{c.Of.Name}\n({c.Of.Family.Name})",
                HtmlWriter.Cell.Number(Numbers.Tenths(c.Probability)),
                new HtmlWriter.Cell(Said(c.Supporting, c.Circumstances), "said"),
                new HtmlWriter.Cell(Said(c.Contradicting, []), "said"),
            ]));
    }

    private static string Said(IEnumerable<Observation> observations, IEnumerable<string> circumstances)
    {
        var said = observations.Take(3).Select(o => string.Create(
                CultureInfo.InvariantCulture, $"{o.PatchName} {Domain.Densitometry.Channels.Word(o.Channel)} "
                    + $"{o.Deviation:+0.00;-0.00;0.00} (it would make {o.Expected:+0.00;-0.00;0.00})"))
            .Concat(circumstances);
        return string.Join('\n', said) is { Length: > 0 } text ? text : ReportWords.None;
    }
}

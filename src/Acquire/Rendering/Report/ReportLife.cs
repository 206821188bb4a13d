using Acquire.Analysis.Life;
using Acquire.Bench.Reports;

namespace Acquire.Rendering.Report;

/// <summary>How long the developer lasts, by these strips.</summary>
internal static class ReportLife
{
    public static void Write(HtmlWriter page, DarkroomReport report)
    {
        ReportHtml.Begin(page, "life");
        var life = report.Life;
        page.Paragraph(LifeWords.HowLong(life, $"the {report.History.Sheet.Name} developer"));
        if (life.Answers.Any(a => a.Model is not null))
        {
            page.Paragraph(LifeWords.WhatChangedMost(life));
            if (LifeWords.NextStrip(life) is { Length: > 0 } next)
            {
                page.Paragraph(next);
            }

            page.Table(
                "Until a parameter reaches its action limit",
                ["parameter", "action limit", HtmlWriter.Cell.Number("strips"), HtmlWriter.Cell.Number(
                    "bottles"), HtmlWriter.Cell.Number("days"), "95 % interval", HtmlWriter.Cell.Number("inside at least, days")],
                life.Answers.Select(Row));
            page.List(life.Answers.SelectMany(a => a.Doubts).Distinct());
        }

        page.List(report.Standings.Select(s => LifeWords.Standing(s.Standing)));
        if (life.WithoutAge > 0)
        {
            page.Paragraph($"{Numbers.Count(life.WithoutAge, "strip")} left out here: the books do not tell how old their solution was.");
        }

        page.Paragraph(
            "This is when densities leave their limits. It is no shelf life, and says nothing of whether a solution is safe.", "soft");
    }

    private static IReadOnlyList<HtmlWriter.Cell> Row(LifeAnswer answer)
    {
        var days = answer.IsTold ? answer.Days : null;
        return
        [
            answer.Name,
            answer.Limit.ToString(),
            HtmlWriter.Cell.Number(Whole(answer.Strips)),
            HtmlWriter.Cell.Number(Whole(answer.Bottles)),
            HtmlWriter.Cell.Number(days is null ? "not told" : days.Estimate.ToString("0.#", CultureInfo.InvariantCulture)),
            days is null
                ? ReportWords.None
                : string.Create(CultureInfo.InvariantCulture, $"{Math.Max(0, days.Lower):0.#} to {days.Upper:0.#}"),
            HtmlWriter.Cell.Number(
                answer.HoldsAWhile ? answer.AtLeastDays!.Value.ToString("0.#", CultureInfo.InvariantCulture) : ReportWords.None),
        ];
    }

    private static string Whole(int number) => number.ToString(CultureInfo.InvariantCulture);
}

using Acquire.Analysis.Life;
using Acquire.Bench.Books;
using Acquire.Bench.Reports;

namespace Acquire.Rendering.Report;

/// <summary>The bottles in use, and what happened.</summary>
internal static class ReportBooks
{
    public static void Write(HtmlWriter page, DarkroomReport report)
    {
        ReportHtml.Begin(page, "books");
        if (report.Bottles.IsEmpty)
        {
            page.Paragraph("The books have no bottle in use.");
        }
        else
        {
            page.Table(
                $"Bottles in use on {Numbers.Day(report.MadeAt)}",
                ["bottle", "solution", HtmlWriter.Cell.Number(
                    "age"), HtmlWriter.Cell.Number("open"), "film", HtmlWriter.Cell.Number("rolls per litre"), "left", "kept"],
                report.Bottles.Select(Row));
        }

        var first = report.History.Strips[0].At.AddDays(-1);
        var events = report.History.Events.Where(e => e.At >= first && e.At <= report.MadeAt).ToList();
        if (events.Count > 0)
        {
            page.Heading("What happened meanwhile");
            page.List(events.Select(e => $"{Numbers.Day(e.At)}, {e.Kind}: {e.Text}"));
        }
    }

    private static IReadOnlyList<HtmlWriter.Cell> Row(BottleState state) =>
    [
        state.Bottle.Name,
        $"{state.Solution.Name} ({EntryText.Word(state.Solution.Kind)})",
        HtmlWriter.Cell.Number(state.Age is { } age ? EntryText.Age(age) : "not mixed yet"),
        HtmlWriter.Cell.Number(state.SinceOpening is { } open ? EntryText.Age(open) : "closed"),
        state.AreaUsed > 0 ? EntryText.Area(state.AreaUsed) : "none",
        HtmlWriter.Cell.Number(
            state.AreaPerLitre is { } each ? (each / FilmFormat.Roll).ToString("0.0", CultureInfo.InvariantCulture) : ReportWords.None),
        EntryText.Fill(state),
        EntryText.Storage(new BottleStorage(
            state.Storage.Container, null, state.Storage.Gas, state.Storage.Temperature)) is { Length: > 0 } kept ? kept : "not told",
    ];
}

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
        var days = answer.Days;
        return
        [
            answer.Name,
            answer.Limit.ToString(),
            HtmlWriter.Cell.Number(Whole(answer.Strips)),
            HtmlWriter.Cell.Number(Whole(answer.Bottles)),
            HtmlWriter.Cell.Number(days is null ? "not told" : days.Estimate.ToString("0.#", CultureInfo.InvariantCulture)),
            days is null
                ? ReportWords.None
                : string.Create(CultureInfo.InvariantCulture, $"{Math.Max(0, days.Lower):0.#} to {days.Upper:0.#}")
                    + (answer.IsBeyond ? " if it goes on" : ""),
            HtmlWriter.Cell.Number(
                answer.HoldsAWhile ? answer.AtLeastDays!.Value.ToString("0.#", CultureInfo.InvariantCulture) : ReportWords.None),
        ];
    }

    private static string Whole(int number) => number.ToString(CultureInfo.InvariantCulture);
}

/// <summary>How far the readings can be trusted.</summary>
internal static class ReportTrust
{
    public static void Write(HtmlWriter page, DarkroomReport report)
    {
        ReportHtml.Begin(page, "trust");
        if (report.Instruments.IsEmpty)
        {
            page.Paragraph("The readings were entered by hand: nothing is known of the instrument behind them.");
        }

        foreach (var instrument in report.Instruments)
        {
            page.Heading($"Densitometer {instrument.Name}");
            page.Paragraph(Check(instrument));
            if (instrument.Repeatability is not var (at, test))
            {
                page.Paragraph("No repeatability test was made: uncertainties rest on such repeats as there are, and for the rest on an "
                    + "assumed repeatability.");
                continue;
            }

            page.Table(
                $"Repeatability test of {Numbers.Day(at)}",
                ["channel", HtmlWriter.Cell.Number("s"), HtmlWriter.Cell.Number(
                    "r = 2.8 s"), HtmlWriter.Cell.Number("reads"), HtmlWriter.Cell.Number("specification"), "passed"],
                test.Channels.Select(c => (IReadOnlyList<HtmlWriter.Cell>)
                [
                    c.Channel.Word(),
                    HtmlWriter.Cell.Number(Numbers.Four(c.Pooled.S)),
                    HtmlWriter.Cell.Number(Numbers.Four(c.Pooled.RepeatabilityLimit)),
                    HtmlWriter.Cell.Number(c.Pooled.Reads.ToString(CultureInfo.InvariantCulture)),
                    HtmlWriter.Cell.Number(Numbers.Four(c.Specification.Sigma)),
                    new HtmlWriter.Cell(c.Specification.Passes ? "yes" : "NO", c.Specification.Passes ? "" : "stop"),
                ]));
        }

        page.Heading("Reference strips read again");
        page.List(report.References.Select(Reference));
    }

    private static string Check(InstrumentTrust instrument) => instrument switch
    {
        { Check.InForce: { } check } => $"A calibration check is in force: passed on {Numbers.Day(check.Provenance.At)} with plaque "
            + $"{check.Plaque.Name}; the next is due on {Numbers.Day(check.DueAt)}.",
        _ => $"No calibration check is in force: {instrument.Check.Lacking}."
            + (instrument.Last is { } last
                ? $" The last one {(last.Check.Passed ? "passed" : "failed")}, with plaque {last.Check.Plaque.Name}."
                : ""),
    };

    private static string Reference(ReferenceTrust reference) => reference switch
    {
        { ReadAgain: null } =>
            $"Lot {reference.Lot}: its reference strip was not read again, so it does not tell whether the instrument has moved.",
        { Review: null } => $"Lot {reference.Lot}: its reference strip was read again on {Numbers.Day(reference.ReadAgain.Value)}, but "
            + "no patch was read on two occasions.",
        { Review: { } review } => string.Create(
            CultureInfo.InvariantCulture,
            $"Lot {reference.Lot}: read again last on {Numbers.Day(reference.ReadAgain.Value)}; {review.Outside} of "
            + $"{review.Series.Length} limits left, ")
            + (review.Holds
                ? "no more than chance explains, so the instrument holds."
                : "more than chance explains: the instrument or the strip has moved."),
    };
}

using Acquire.Bench.Reports;

namespace Acquire.Rendering.Report;

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
            page.Heading($"Densitometer read with profile {instrument.Profile}");
            page.Paragraph(Check(instrument));
            if (instrument.Repeatability is not var (at, test))
            {
                page.Paragraph("No repeatability test was made, so uncertainties rest on the repeats of each strip alone.");
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
            + $"{review.Series.Length} limits left, "
                + $"{(review.Holds ? "no more than chance explains, so the instrument "
                    + "holds" : "more than chance explains: the instrument or the strip has moved")}."),
    };
}

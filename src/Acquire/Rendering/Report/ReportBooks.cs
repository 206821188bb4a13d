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

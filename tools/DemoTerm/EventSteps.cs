namespace DemoTerm;

/// <summary>What happened to the lines over the term.</summary>
internal static class EventSteps
{
    /// <summary>The steps.</summary>
    public static IEnumerable<HistoryStep> Of(TermCalendar term) =>
    [
        Event(
            term.DayAfter(5, 10, 0),
            BookEventKind.NewMix,
            "developer thrown away after fixer got into it; tanks and racks rinsed",
            Places.DipTank),
        Event(term.DayAfter(StaffBaths.BleachDies, 15, 50), BookEventKind.NewMix, "fresh bleach in the machine", Places.Machine),
        Event(
            term.DayAfter(TermCalendar.AfterHoliday - 1, 16, 0),
            BookEventKind.Pause,
            "holiday: no class and no staff sessions for a week",
            null),
        Event(
            term.Evening(20, 16, 0),
            BookEventKind.Temperature,
            "dip tank ran hot: thermometer read 0.4 °C low; offset put in",
            Places.DipTank),
    ];

    private static HistoryStep Event(
        DateTimeOffset at, BookEventKind kind, string text, string? line) => new(at, (d, token) => d.Books.EnterAsync(
        People.Technician,
        (books, stamp) => [new BookEvent(stamp(), kind, text, line is null ? null : BookKeeper.Line(books, line).Id)], token));
}

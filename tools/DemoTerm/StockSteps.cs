namespace DemoTerm;

/// <summary>The strips in the cold: a few are taken out each week.</summary>
internal static class StockSteps
{
    private const int EachWeek = 4;
    private const int ForPairs = 2;
    private const int AfterFog = 4;

    /// <summary>The steps.</summary>
    public static IEnumerable<HistoryStep> Of(TermCalendar term) =>
    [
        .. Enumerable.Range(0, TermCalendar.Evenings).Where(e => e % 2 == 0).Select(e => Move(
            term.Evening(e, 16, 50), e < ClassEvenings.FirstOfNewLot ? HistoryLot.Old : HistoryLot.New, StockMoveKind.Taken, EachWeek)),
        Move(term.Evening(ClassEvenings.FirstPair, 16, 55), HistoryLot.New, StockMoveKind.Taken, ForPairs),
        Move(term.Evening(ClassEvenings.FirstPair + 1, 16, 55), HistoryLot.New, StockMoveKind.Taken, ForPairs),
        Move(term.Evening(AfterFog, 16, 30), HistoryLot.Old, StockMoveKind.Spoiled, 1, "lay in the open box beside the fogged one"),
    ];

    private static HistoryStep Move(
        DateTimeOffset at, HistoryLot lot, StockMoveKind kind, int strips, string? note = null) => new(at, (d, token) =>
        d.Books.EnterAsync(People.Technician, (_, stamp) => [new StockMove(stamp(), lot.Code, kind, strips)], token, note: note));
}

using Acquire.Formats.ProcessSheets;

namespace DemoTerm;

/// <summary>The day before the term: the lines, the first lot and its reference, the densitometer's first test.</summary>
internal static class OpeningSteps
{
    private static readonly DateOnly Expires = new(2028, 6, 30);

    /// <summary>The steps.</summary>
    public static IEnumerable<HistoryStep> Of(TermCalendar term) =>
    [
        new(term.Opening(9, 10), (d, token) => d.Books.EnterAsync(People.Technician, (_, stamp) =>
        [
            new ProcessLine(stamp(), Places.DipTank, LineKind.DipTank, Places.Process) { Note = "two evenings a week, the class" },
            new ProcessLine(stamp(), Places.Machine, LineKind.BenchTopMachine, Places.Process) { Note = "staff only" },
        ], token)),
        new(term.Opening(9, 20), (d, token) => d.Books.EnterAsync(People.Technician, (books, stamp) =>
        [
            new LineMethod(
                stamp(), BookKeeper.Line(books, Places.DipTank).Id, "lift and tilt, every 10 s", 37.8, TimeSpan.FromSeconds(195)),
            new LineMethod(stamp(), BookKeeper.Line(books, Places.Machine).Id, "continuous", 37.8, TimeSpan.FromSeconds(195)),
        ], token)),
        new(term.Opening(9, 30), (d, token) =>
            d.Store.AddInstrumentAsync(Desk.InHouse(People.Technician, term.Opening(9, 30)), token)),
        new(term.Opening(9, 40), (d, token) => AddLotAsync(d, HistoryLot.Old, token)),
        new(term.Opening(10, 0), (d, token) => d.Trust.AddPlaqueAsync(token)),
        new(term.Opening(10, 10), (d, token) => d.Trust.CheckAsync(People.Technician, 0, token)),
        new(term.Opening(10, 30), (d, token) => d.Trust.TestAsync(HistoryLot.Old, People.Technician, token)),
        new(term.Opening(11, 0), (d, token) => d.Trust.ReadReferenceAsync(HistoryLot.Old, People.Technician, token)),
    ];

    /// <summary>Enters a lot and counts its strips in.</summary>
    public static async Task AddLotAsync(Darkroom darkroom, HistoryLot lot, CancellationToken cancellationToken)
    {
        await darkroom.Store.AddLotAsync(lot.ToLot(ShippedSheets.Get(Places.Process), Expires), cancellationToken);
        await darkroom.Books.EnterAsync(
            People.Technician,
            (_, stamp) => [new StockMove(stamp(), lot.Code, StockMoveKind.Added, lot.Strips)], cancellationToken, note: "a new box");
    }
}

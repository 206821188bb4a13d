namespace DemoTerm;

/// <summary>What shows over the term how far densitometer and lots can be trusted.</summary>
internal static class TrustSteps
{
    private const int Forgotten = 10;
    private const int Off = 16;

    /// <summary>The steps.</summary>
    public static IEnumerable<HistoryStep> Of(TermCalendar term) =>
    [
        .. Enumerable.Range(0, TermCalendar.Evenings).Where(e => e % 2 == 0 && e is not (Forgotten or Off)).Select(
            e => Check(term.Evening(e, 17, 0))),
        Check(term.Evening(Off, 17, 0), zero: 0.035),
        Event(term.Evening(Off, 17, 20), BookEventKind.Calibration, "densitometer zeroed and calibrated after the plaque failed"),
        Check(term.Evening(Off, 17, 30)),
        Recheck(term.DayAfter(4, 11, 30), HistoryLot.Old),
        Recheck(term.DayAfter(8, 11, 30), HistoryLot.Old),
        new(term.DayAfter(7, 13, 0), (d, token) => OpeningSteps.AddLotAsync(d, HistoryLot.New, token)),
        new(term.DayAfter(7, 13, 20), (d, token) => d.Trust.ReadReferenceAsync(HistoryLot.New, People.Technician, token)),
        new(term.DayAfter(11, 11, 30), (d, token) => d.Trust.AcceptCrossoverAsync(
            HistoryLot.Old, HistoryLot.New, People.Technician, "three evenings together; the references were read twice", token)),
        Event(term.DayAfter(11, 11, 45), BookEventKind.NewLot, "strips of lot 2431 from now on"),
        new(term.DayAfter(13, 11, 30), (d, token) => d.Trust.TestAsync(HistoryLot.New, People.Technician, token)),
        Recheck(term.DayAfter(15, 11, 30), HistoryLot.New),
        Recheck(term.DayAfter(19, 11, 30), HistoryLot.New),
    ];

    private static HistoryStep Check(DateTimeOffset at, double zero = 0) =>
        new(at, (d, token) => d.Trust.CheckAsync(People.Technician, zero, token));

    private static HistoryStep Recheck(DateTimeOffset at, HistoryLot lot) =>
        new(at, (d, token) => d.Trust.RecheckAsync(lot, People.Technician, token));

    private static HistoryStep Event(DateTimeOffset at, BookEventKind kind, string text) => new(at, (d, token) =>
        d.Books.EnterAsync(People.Technician, (_, stamp) => [new BookEvent(stamp(), kind, text)], token));
}

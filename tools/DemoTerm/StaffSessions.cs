using Acquire.Instruments.Simulation;

namespace DemoTerm;

/// <summary>The mornings after the class, when staff use the bench-top machine; not every time with a strip.</summary>
internal static class StaffSessions
{
    private const long Stream = 7_000_004;
    private const int WrongLine = 14;

    private static readonly ImmutableHashSet<int> WithoutStrip = [1, 5, 15, 19];

    /// <summary>The steps.</summary>
    public static IEnumerable<HistoryStep> Of(TermCalendar term, int seed) =>
    [
        .. Enumerable.Range(0, TermCalendar.Evenings).SelectMany(s => Session(term, s, new SeededChance(seed, Stream + s))),
        new(term.DayAfter(StaffBaths.BleachDies, 14, 40), (d, token) => d.Strips.ReadAgainAsync(
            new RereadPlan(
                NameOf(StaffBaths.BleachDies),
                Treatment.ReBleach,
                People.Technician,
                "ten minutes in the fresh bleach of the class, fixed and washed anew"),
            token)),
        new(term.DayAfter(WrongLine, 11, 40), (d, token) => d.Strips.PutLineRightAsync(
            NameOf(WrongLine), People.Technician, "ran in the machine, not in the dip tank", token)),
    ];

    private static IEnumerable<HistoryStep> Session(TermCalendar term, int session, SeededChance chance)
    {
        var baths = StaffBaths.On(session);
        if (!WithoutStrip.Contains(session))
        {
            yield return HistoryStep.Read(term.DayAfter(session, 10, 10), new StripPlan(
                NameOf(session),
                session < ClassEvenings.FirstOfNewLot ? HistoryLot.Old : HistoryLot.New,
                Places.Machine,
                baths,
                term.DayAfter(session, 9, 15),
                session % 3 == 2 ? People.Assistant : People.Technician)
            {
                WrongLine = session == WrongLine ? Places.DipTank : null,
                Note = (StaffBaths.BleachDies - session) switch { 0 =>
                    "dense areas look heavy on the last films too", 1 => "D-max blue is up: watch the bleach", _ => null },
            });
        }

        yield return new HistoryStep(term.DayAfter(session, 10, 45), (d, token) => d.Books.EnterAsync(
            People.Technician,
            (books, stamp) => [new FilmUse(
                stamp(),
                Rolls(chance),
                [.. BookKeeper.Bottles(books, baths).Select(b => b.Id)],
                BookKeeper.Line(books, Places.Machine).Id)],
            token));
    }

    /// <summary>Two or three rolls.</summary>
    private static ImmutableArray<FilmCount> Rolls(SeededChance chance) =>
    [
        FilmCount.Of(FilmFormat.Find("120")!, 1 + chance.Below(2)),
        FilmCount.Of(FilmFormat.Find("135-36")!),
    ];

    private static string NameOf(int session) => $"staff {session}";
}

namespace DemoTerm;

/// <summary>The solutions of the dip tank. The developer stands half a big bottle full between the evenings.</summary>
internal static class ClassBaths
{
    private const string Bleach = "TB1";
    private const int FirstOfSecondFixer = 12;

    private static readonly BottleStorage BigBottle = new("PET", 5, "air");
    private static readonly BottleStorage Tank = new("lidded tank", 9, "air");
    private static readonly BottleStorage BigTank = new("lidded tank", 15, "air");

    // The first evening of each developer; the second came early, because the first was spoiled.
    private static readonly ImmutableArray<(string Bottle, int From)> Developers = [("T1", 0), ("T2", 6), ("T3", 12), ("T4", 17)];

    /// <summary>Developer, bleach and fixer of an evening.</summary>
    public static ImmutableArray<string> On(int evening) =>
        [Developers.Last(d => d.From <= evening).Bottle, Bleach, evening < FirstOfSecondFixer ? "TF1" : "TF2"];

    /// <summary>Mixing, filling, topping up and throwing away.</summary>
    public static IEnumerable<HistoryStep> Of(TermCalendar term) =>
    [
        .. new Bath("bleach for the class", SolutionKind.Bleach, 14, BigTank, Bleach).Made(term.Opening(13, 0)),
        .. new Bath("fixer for the class", SolutionKind.Fixer, 8, Tank, "TF1").Made(term.Opening(13, 40)),
        .. Developers.SelectMany((d, i) => Developer(term, d.Bottle, d.From, i + 1)),
        Bath.Event(term.Evening(9, 16, 40), "T2", BottleEventKind.Poured, People.Technician, 0.4, "to make room for fresh developer"),
        Bath.Event(term.Evening(9, 16, 45), "T2", BottleEventKind.ToppedUp, People.Technician, 0.4),
        Bath.Event(
            term.DayAfter(5, 9, 50), "T1", BottleEventKind.Discarded, People.Technician, note: "fixer in it, confirmed by a second strip"),
        Bath.Event(term.DayAfter(11, 14, 30), "T2", BottleEventKind.Discarded, People.Technician, note: "three weeks old"),
        Bath.Event(term.DayAfter(16, 14, 30), "T3", BottleEventKind.Discarded, People.Technician, note: "stood half full over the holiday"),
        .. new Bath("second fixer for the class", SolutionKind.Fixer, 8, Tank, "TF2").Made(term.Evening(FirstOfSecondFixer, 14, 0)),
        Bath.Event(
            term.Evening(FirstOfSecondFixer, 14, 30), "TF1", BottleEventKind.Discarded, People.Technician, note: "to the silver recovery"),
    ];

    private static IEnumerable<HistoryStep> Developer(TermCalendar term, string bottle, int evening, int number) =>
    [
        .. new Bath($"developer {number} for the class", SolutionKind.Developer, 2.5, BigBottle, bottle).Made(term.Evening(evening, 15, 0)),
        Bath.Event(term.Evening(evening, 17, 45), bottle, BottleEventKind.Opened, People.Tutor),
    ];
}

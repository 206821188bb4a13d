namespace DemoTerm;

/// <summary>The solutions of the bench-top machine. Its developer waits in full small glass bottles.</summary>
internal static class StaffBaths
{
    /// <summary>The last session of the first bleach.</summary>
    public const int BleachDies = 12;

    private static readonly BottleStorage Glass = new("glass", 1, "air");
    private static readonly BottleStorage Reservoir = new("reservoir", 1.5, "air");

    private static readonly ImmutableArray<(string Bottle, int From)> Developers = [("M1", 0), ("M2", 6), ("M3", 12), ("M4", 17)];

    /// <summary>Developer, bleach and fixer of a session.</summary>
    public static ImmutableArray<string> On(int session) =>
        [Developers.Last(d => d.From <= session).Bottle, session <= BleachDies ? "MB1" : "MB2", "MF1"];

    /// <summary>Mixing, filling, opening and throwing away.</summary>
    public static IEnumerable<HistoryStep> Of(TermCalendar term) =>
    [
        .. new Bath("developer 1 for the machine", SolutionKind.Developer, 1, Glass, "M1", "M2").Made(term.DayAfter(0, 8, 20)),
        .. new Bath("developer 2 for the machine", SolutionKind.Developer, 1, Glass, "M3", "M4").Made(term.DayAfter(11, 15, 0)),
        .. new Bath("bleach for the machine", SolutionKind.Bleach, 1.5, Reservoir, "MB1").Made(term.Opening(14, 20)),
        .. new Bath("fixer for the machine", SolutionKind.Fixer, 1.5, Reservoir, "MF1").Made(term.Opening(15, 0)),
        .. new Bath("second bleach for the machine", SolutionKind.Bleach, 1.5, Reservoir, "MB2").Made(term.DayAfter(BleachDies, 15, 30)),
        Bath.Event(
            term.DayAfter(BleachDies, 15, 20),
            "MB1",
            BottleEventKind.Discarded,
            People.Technician,
            note: "left silver; a strip came right after a second bleach"),
        .. Developers.Select(d => Bath.Event(term.DayAfter(d.From, 8, 50), d.Bottle, BottleEventKind.Opened, People.Technician)),
        .. Developers.Zip(Developers.Skip(1)).Select(p =>
            Bath.Event(
                term.DayAfter(p.Second.From - 1, 14, 50), p.First.Bottle, BottleEventKind.Discarded, People.Technician, note: "used up")),
    ];
}

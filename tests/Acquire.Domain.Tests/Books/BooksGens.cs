namespace Acquire.Domain.Tests.Books;

/// <summary>Books of one line, one mix, one bottle and one lot, with up to thirty entries at different minutes. Invented numbers.</summary>
internal static class BooksGens
{
    public const string Lot = "2417";

    public static readonly ProcessLine Line = new(Stamp(0), "dip tank", LineKind.DipTank, "c41");

    public static readonly Solution Mix = new(Stamp(60), "dev 12", SolutionKind.Developer, "c41", 2);

    public static readonly Bottle Bottle = new(Stamp(80), "D7", Mix.Id, 1, new BottleStorage("glass", 1.5, "argon", 18));

    /// <summary>What happened, in some order of entry.</summary>
    public static readonly Gen<BookEntry[]> Entries = Gen.Select(
        Gen.Int[1, 5000].HashSet[0, 30], Gen.Int.Array[30], Gen.Double[0.01, 0.9].Array[30])
        .Select((minutes, kinds, amounts) =>
            minutes.Where(m => m is not (60 or 80)).Select((m, i) => Entry(m, kinds[i], amounts[i])).ToArray());

    public static readonly Gen<DateTimeOffset> Moment = Gen.Int[-10, 5100].Select(At);

    public static DateTimeOffset At(int minute) => Some.Time.AddMinutes(minute);

    public static EntryStamp Stamp(int minute) => new(Guid.CreateVersion7(Some.Time), At(minute), Some.Time.AddDays(9), "evening class");

    public static Ledger Books(params IEnumerable<BookEntry> entries) => new([Line, Mix, Bottle, .. entries]);

    private static BookEntry Entry(int minute, int kind, double amount) => ((uint)kind % 10) switch
    {
        0 => new BottleEvent(Stamp(minute), Bottle.Id, BottleEventKind.Opened),
        1 => new BottleEvent(Stamp(minute), Bottle.Id, BottleEventKind.ToppedUp, amount),
        2 => new BottleEvent(Stamp(minute), Bottle.Id, BottleEventKind.Poured, amount),
        3 => new BottleEvent(Stamp(minute), Bottle.Id, BottleEventKind.StoredAnew, storage: new BottleStorage(gas: $"gas {minute}")),
        4 when amount < 0.1 => new BottleEvent(Stamp(minute), Bottle.Id, BottleEventKind.Discarded),
        5 => new LineMethod(Stamp(minute), Line.Id, minute % 2 == 0 ? "slow" : null, 30 + (10 * amount), null),
        6 or 7 => new StockMove(Stamp(minute), Lot, (StockMoveKind)(minute % 5), 1 + (int)(amount * 10)),
        _ => new FilmUse(Stamp(minute), [FilmCount.OfArea(amount)], [Bottle.Id], minute % 3 == 0 ? null : Line.Id),
    };
}

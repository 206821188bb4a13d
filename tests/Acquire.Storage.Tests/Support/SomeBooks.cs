namespace Acquire.Storage.Tests.Support;

/// <summary>Entries in the books: a set of every kind, and generators of everything they can hold. Invented numbers.</summary>
internal static class SomeBooks
{
    private static readonly Gen<EntryStamp> Stamp =
        Gen.Select(Gens.Id, Gens.Time, Gens.Time, Gens.Text, (id, at, entered, by) => new EntryStamp(id, at, entered, by));

    private static readonly Gen<double> Litres = Gen.Double[0.001, 50];

    private static readonly Gen<string?> MaybeWord = Gen.OneOf(Gens.Text.Select(t => (string?)t), Gen.Const((string?)null));

    private static readonly Gen<double?> Celsius = Gen.Double[-30, 100].Nullable();

    private static readonly Gen<BottleStorage> Storage = Gen.Select(
        MaybeWord, Litres.Nullable(),
        MaybeWord, Celsius, (container, capacity, gas, temperature) => new BottleStorage(container, capacity, gas, temperature));

    private static readonly Gen<FilmCount> Film =
        Gen.Select(Gens.Text, Gen.Int[1, 500], Gen.Double[1e-6, 10], (format, count, area) => new FilmCount(format, count, area));

    public static EntryStamp StampOf(DateTimeOffset? at = null) =>
        new(Guid.CreateVersion7(Some.Evening), at ?? Some.Evening, Some.Evening.AddHours(2), "Ines");

    /// <summary>An entry of every kind; the last withdraws the event before it.</summary>
    public static ImmutableArray<BookEntry> OneOfEach(Guid strip)
    {
        var line = new ProcessLine(StampOf(), "dip tank", LineKind.DipTank, "c41");
        var mix = new Solution(StampOf(), "dev 3", SolutionKind.Developer, "c41", 2.5, "K77") { Note = "tap water" };
        var bottle = new Bottle(StampOf(), "D3", mix.Id, 1, new BottleStorage("glass", 1, "argon", 18));
        var happened = new BookEvent(StampOf(), BookEventKind.Repair, "pump", line.Id, bottle.Id);
        return
        [
            line,
            new LineMethod(StampOf(), line.Id, "lift every 15 s", 37.8, TimeSpan.FromSeconds(195)),
            mix,
            bottle,
            new BottleEvent(StampOf(), bottle.Id, BottleEventKind.StoredAnew, storage: new BottleStorage(gas: "air")),
            new FilmUse(StampOf(), [new FilmCount("135-36", 2, 0.055), FilmCount.OfArea(0.2)], [bottle.Id], line.Id, strip),
            new StockMove(StampOf(), Some.Lot.Code, StockMoveKind.Added, 20, strip),
            happened,
            new Withdrawal(StampOf(), happened.Id, "twice"),
        ];
    }

    /// <summary>Books with entries of any kind that refer to a line, a mix, a bottle and a lot that are there.</summary>
    public static Gen<ImmutableArray<BookEntry>> Books(string lot) => Gen.Select(
        Gen.Select(
            Stamp, Gens.Text, Gen.Enum<LineKind>(), Gens.Text, (stamp, name, kind, process) => new ProcessLine(stamp, name, kind, process)),
        Gen.Select(Stamp, Gens.Text, Gen.Enum<SolutionKind>(), Litres, MaybeWord, (stamp, name, kind, volume, word) =>
            new Solution(stamp, name, kind, "c41", volume, word)))
        .SelectMany((line, mix) => Gen.Select(
            Stamp, Gens.Text, Litres, Storage, (stamp, name, volume, storage) => new Bottle(stamp, name, mix.Id, volume, storage))
            .SelectMany(bottle => Gen.Select(Entry(line, bottle, lot), Gens.MaybeText, (entry, note) => entry with { Note = note }).Array[
                0, 12]
                .Select(more => (ImmutableArray<BookEntry>)[line, mix, bottle, .. more])));

    private static Gen<BookEntry> Entry(ProcessLine line, Bottle bottle, string lot) => Gen.OneOf(
        Gen.Select(Stamp, MaybeWord, Celsius, Gen.Int[1, 90_000], (stamp, word, celsius, tenths) =>
            (BookEntry)new LineMethod(stamp, line.Id, word, celsius, TimeSpan.FromSeconds(tenths / 10.0))),
        Gen.Select(Stamp, Gen.Enum<BottleEventKind>(), Litres, Storage, (stamp, kind, volume, storage) => (BookEntry)new BottleEvent(
            stamp,
            bottle.Id,
            kind,
            kind is BottleEventKind.Poured or BottleEventKind.ToppedUp ? volume : null,
            kind == BottleEventKind.StoredAnew ? storage.IsEmpty ? new BottleStorage("glass") : storage : null)),
        Gen.Select(Stamp, Film.Array[1, 4], Gen.Int[0, 2], (stamp, films, where) => (BookEntry)new FilmUse(
            stamp, [.. films], where == 0 ? [] : [bottle.Id], where == 1 ? null : line.Id)),
        Gen.Select(
            Stamp, Gen.Enum<StockMoveKind>(), Gen.Int[1, 99], (stamp, kind, strips) => (BookEntry)new StockMove(stamp, lot, kind, strips)),
        Gen.Select(Stamp, Gen.Enum<BookEventKind>(), Gens.Text, Gen.Bool, Gen.Bool, (stamp, kind, text, here, there) =>
            (BookEntry)new BookEvent(stamp, kind, text, here ? line.Id : null, there ? bottle.Id : null)));
}

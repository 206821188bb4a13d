namespace Acquire.Bench.Tests.Books;

/// <summary>
/// Books of the college darkroom: a dip tank and a bench-top machine, two bottles of developer and one of bleach. Invented numbers.
/// </summary>
internal static class SomeBooks
{
    public static readonly ProcessLine Tank = new(Stamp(0), "dip tank", LineKind.DipTank, "c41");

    public static readonly ProcessLine Machine = new(Stamp(0), "bench-top machine", LineKind.BenchTopMachine, "c41");

    public static readonly Solution Developer = new(Stamp(1), "dev 12", SolutionKind.Developer, "c41", 2);

    public static readonly Solution Bleach = new(Stamp(1), "bleach 4", SolutionKind.Bleach, "c41", 2);

    public static readonly Bottle D7 = new(Stamp(2), "D7", Developer.Id, 1, new BottleStorage());

    public static readonly Bottle D8 = new(Stamp(2), "D8", Developer.Id, 1, new BottleStorage());

    public static readonly Bottle B4 = new(Stamp(2), "B4", Bleach.Id, 2, new BottleStorage());

    /// <summary>So many hours after the moment all tests begin with.</summary>
    public static DateTimeOffset At(double hour) => Some.Moment.AddHours(hour);

    public static EntryStamp Stamp(double hour) => new(Guid.CreateVersion7(Some.Moment), At(hour), At(hour), "staff");

    public static FilmUse Use(double hour, ProcessLine? line, params Bottle[] bottles) =>
        new(Stamp(hour), [FilmCount.Of(FilmFormat.Find("135-36")!, 2)], [.. bottles.Select(b => b.Id)], line?.Id);

    public static Ledger Books(params IEnumerable<BookEntry> more) => new([Tank, Machine, Developer, Bleach, D7, D8, B4, .. more]);
}

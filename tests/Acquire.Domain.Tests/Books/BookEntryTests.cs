namespace Acquire.Domain.Tests.Books;

public sealed class BookEntryTests
{
    private static readonly EntryStamp Stamp = BooksGens.Stamp(0);

    [Theory]
    [InlineData(0)]
    [InlineData(-0.2)]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    public void Area_that_is_not_above_zero_is_refused_and_told_what_to_do(double area) =>
        Assertions.Refused("acquire undo", () => FilmCount.OfArea(area));

    [Fact]
    public void Entry_that_says_nothing_or_the_impossible_is_refused()
    {
        Assertions.Refused("whole number from 1", () => FilmCount.Of(FilmFormat.ControlStrip, 0));
        Assertions.Refused("neither is named", () => new FilmUse(Stamp, [FilmCount.OfArea(1)], [], null));
        Assertions.Refused("named twice", () => new FilmUse(Stamp, [FilmCount.OfArea(1)], [Guid.Empty, Guid.Empty], null));
        Assertions.Refused("must not be empty", () => new FilmUse(Stamp, [], [Guid.Empty], null));
        Assertions.Refused("above zero", () => new Solution(Stamp, "dev", SolutionKind.Developer, "c41", 0));
        Assertions.Refused("above zero", () => new Bottle(Stamp, "D7", Guid.Empty, double.NaN, new BottleStorage()));
        Assertions.Refused("above zero", () => new BottleStorage(capacity: -1));
        Assertions.Refused("between -30 and 100", () => new BottleStorage(temperature: 378));
        Assertions.Refused("names agitation", () => new LineMethod(Stamp, Guid.Empty, null, null, null));
        Assertions.Refused("developing time", () => new LineMethod(Stamp, Guid.Empty, null, null, TimeSpan.Zero));
        Assertions.Refused("volume belongs", () => new BottleEvent(Stamp, Guid.Empty, BottleEventKind.Poured));
        Assertions.Refused("volume belongs", () => new BottleEvent(Stamp, Guid.Empty, BottleEventKind.Opened, 1));
        Assertions.Refused(
            "stored anew", () => new BottleEvent(Stamp, Guid.Empty, BottleEventKind.StoredAnew, storage: new BottleStorage()));
        Assertions.Refused(
            "stored anew", () => new BottleEvent(Stamp, Guid.Empty, BottleEventKind.Opened, storage: new BottleStorage("glass")));
        Assertions.Refused("whole number from 1", () => new StockMove(Stamp, "2417", StockMoveKind.Used, 0));
        Assertions.Refused("must not be empty", () => new BookEvent(Stamp, BookEventKind.Repair, " "));
        Assertions.Refused("must not be empty", () => new Withdrawal(Stamp, Guid.Empty, ""));
        Assertions.Refused("must not be empty", () => new EntryStamp(Guid.Empty, Some.Time, Some.Time, " "));
    }
}

namespace Acquire.Domain.Tests.Books;

public sealed class StockStateTests
{
    [Fact]
    public void Strips_are_conserved_and_never_below_zero() => Gen.Select(BooksGens.Entries, BooksGens.Moment).Sample((entries, at) =>
    {
        var state = BooksGens.Books(entries).StockAt(BooksGens.Lot, at);

        Assert.Equal(state.Added, state.Left - state.Overdrawn + state.Used + state.Spoiled);
        Assert.True(state.Left >= 0 && state.Out >= 0 && state.Out <= state.Left);
        Assert.True((state.OpenedAt is null) == (state.Thaws == 0));
    });

    [Fact]
    public void Box_is_thawed_once_for_each_taking_and_for_a_strip_used_straight_from_the_cold()
    {
        var books = BooksGens.Books(
            Move(1, StockMoveKind.Added, 20),
            Move(10, StockMoveKind.Taken, 3),
            Move(20, StockMoveKind.Used, 2),
            Move(30, StockMoveKind.Returned, 1),
            Move(40, StockMoveKind.Used, 1),
            Move(50, StockMoveKind.Spoiled, 1));

        Assert.Equal((20, 0, 0), Told(books.StockAt(BooksGens.Lot, BooksGens.At(9))));
        Assert.Equal((18, 1, 1), Told(books.StockAt("2417", BooksGens.At(20))));
        Assert.Equal((18, 0, 1), Told(books.StockAt(BooksGens.Lot, BooksGens.At(30))));
        Assert.Equal((16, 0, 2), Told(books.StockAt(BooksGens.Lot, BooksGens.At(50))));
        Assert.Equal(BooksGens.At(10), books.StockAt(BooksGens.Lot, BooksGens.At(50)).OpenedAt);
    }

    [Fact]
    public void Strips_that_were_all_taken_out_are_used_without_another_thaw()
    {
        var books = BooksGens.Books(Move(1, StockMoveKind.Added, 9), Move(10, StockMoveKind.Taken, 3), Move(20, StockMoveKind.Used, 3));

        Assert.Equal((6, 0, 1), Told(books.StockAt(BooksGens.Lot, BooksGens.At(20))));
    }

    [Theory]
    [InlineData("2026-11-25", 5)]
    [InlineData("2026-11-30", 0)]
    [InlineData("2026-12-02", -2)]
    public void Days_to_expiry_count_to_the_last_good_day(string day, int days) => Assert.Equal(
        days, StockState.DaysToExpiry(
            new DateOnly(2026, 11, 30), DateOnly.ParseExact(day, "yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture)));

    [Fact]
    public void Days_to_an_expiry_nobody_knows_are_not_known() => Assert.Null(StockState.DaysToExpiry(null, new DateOnly(2026, 11, 30)));

    private static StockMove Move(int minute, StockMoveKind kind, int strips) => new(BooksGens.Stamp(minute), BooksGens.Lot, kind, strips);

    private static (int Left, int Out, int Thaws) Told(StockState state) => (state.Left, state.Out, state.Thaws);
}

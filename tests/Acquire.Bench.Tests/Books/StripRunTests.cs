using Acquire.Bench.Books;

namespace Acquire.Bench.Tests.Books;

public sealed class StripRunTests
{
    private static readonly Ledger Evening = SomeBooks.Books(SomeBooks.Use(12, SomeBooks.Tank, SomeBooks.D7, SomeBooks.B4));

    [Fact]
    public void Nothing_named_takes_the_line_and_developer_of_the_session_and_says_so()
    {
        var ties = StripRun.Of(Evening, "c41", null, null, SomeBooks.At(13));

        Assert.Equal(("dip tank", "D7"), (ties.LineName, ties.BottleName));
        Assert.Equal([SomeBooks.D7, SomeBooks.B4], ties.Bottles);
        Assert.Contains("line dip tank, bottle D7", Assert.Single(ties.Messages), StringComparison.Ordinal);
    }

    [Fact]
    public void Names_are_written_as_the_books_have_them_without_a_word()
    {
        var ties = StripRun.Of(Evening, "c41", "BENCH", "d8", SomeBooks.At(13));

        Assert.Equal(("bench-top machine", "D8"), (ties.LineName, ties.BottleName));
        Assert.Equal([SomeBooks.D8], ties.Bottles);
        Assert.Empty(ties.Messages);
    }

    [Fact]
    public void Names_the_books_do_not_have_are_kept_and_told_with_what_looks_like_them()
    {
        var ties = StripRun.Of(Evening, "c41", "dip tnk", "D9", SomeBooks.At(13));

        Assert.Equal(("dip tnk", "D9"), (ties.LineName, ties.BottleName));
        Assert.Empty(ties.Bottles);
        Assert.Equal(2, ties.Messages.Length);
        Assert.Contains("did you mean dip tank?", ties.Messages[0], StringComparison.Ordinal);
        Assert.Contains("did you mean D7 or D8?", ties.Messages[1], StringComparison.Ordinal);
    }

    [Fact]
    public void Books_that_are_empty_say_nothing()
    {
        var ties = StripRun.Of(new Ledger([]), "c41", "dip tank", null, SomeBooks.At(13));

        Assert.Equal(("dip tank", (string?)null), (ties.LineName, ties.BottleName));
        Assert.Empty(ties.Messages);
        Assert.Empty(ties.Entries(new Ledger([]), "2417", Guid.NewGuid(), () => SomeBooks.Stamp(13)));
    }

    [Fact]
    public void Strip_of_another_process_takes_nothing_unnamed() =>
        Assert.Equal(
            (null, null), (StripRun.Of(Evening, "e6", null, null, SomeBooks.At(13)) is var ties ? ties.LineName : "", ties.BottleName));

    [Fact]
    public void Strip_counts_its_own_area_and_leaves_the_stock_of_its_lot()
    {
        var books = SomeBooks.Books(
            SomeBooks.Use(12, SomeBooks.Tank, SomeBooks.D7), new StockMove(SomeBooks.Stamp(3), "2417", StockMoveKind.Added, 20));
        var strip = Guid.NewGuid();
        var entries =
            StripRun.Of(books, "c41", null, null, SomeBooks.At(13)).Entries(books, "2417", strip, () => SomeBooks.Stamp(13)).ToList();
        var after = new Ledger(books.Entered.Concat(entries));

        Assert.Equal(2, entries.Count);
        Assert.Equal(0.11 + 0.0084, after.At(SomeBooks.D7, SomeBooks.At(13)).AreaUsed, 12);
        Assert.Equal(19, after.StockAt("2417", SomeBooks.At(13)).Left);
        Assert.All(entries, e => Assert.Equal(strip, (e as FilmUse)?.StripId ?? ((StockMove)e).StripId));
    }
}

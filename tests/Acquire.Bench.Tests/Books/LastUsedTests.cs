using Acquire.Bench.Books;

namespace Acquire.Bench.Tests.Books;

public sealed class LastUsedTests
{
    [Fact]
    public void Last_use_of_the_session_gives_its_bottles_and_line()
    {
        var last = LastUsed.Of(SomeBooks.Books(
            SomeBooks.Use(10, SomeBooks.Machine, SomeBooks.D8),
            SomeBooks.Use(12, SomeBooks.Tank, SomeBooks.D7, SomeBooks.B4)), SomeBooks.At(13));

        Assert.Equal([SomeBooks.D7, SomeBooks.B4], last.Bottles);
        Assert.Same(SomeBooks.Tank, last.Line);
        Assert.True(last.IsWhole);
    }

    [Fact]
    public void Entry_dated_back_takes_what_was_used_before_it_and_not_after()
    {
        var books = SomeBooks.Books(SomeBooks.Use(10, SomeBooks.Machine, SomeBooks.D8), SomeBooks.Use(12, SomeBooks.Tank, SomeBooks.D7));

        Assert.Equal([SomeBooks.D8], LastUsed.Of(books, SomeBooks.At(11)).Bottles);
    }

    [Fact]
    public void Older_use_gives_only_what_nothing_else_of_its_kind_could_be_meant_by()
    {
        var last = LastUsed.Of(SomeBooks.Books(SomeBooks.Use(12, SomeBooks.Tank, SomeBooks.D7, SomeBooks.B4)), SomeBooks.At(100));

        Assert.Equal([SomeBooks.B4], last.Bottles);
        Assert.False(last.IsWhole);
        Assert.Null(last.Line);
    }

    [Fact]
    public void Discarded_bottle_gives_way_to_the_only_one_that_does_the_same()
    {
        var books = SomeBooks.Books(SomeBooks.Use(12, SomeBooks.Tank, SomeBooks.D7, SomeBooks.B4), Discarded(12.5, SomeBooks.D7));
        Assert.Equal([SomeBooks.D8, SomeBooks.B4], LastUsed.Of(books, SomeBooks.At(13)).Bottles);

        var none = LastUsed.Of(
            SomeBooks.Books(books.Uses.Single(), Discarded(12.5, SomeBooks.D7), Discarded(12.6, SomeBooks.D8)), SomeBooks.At(13));
        Assert.Equal([SomeBooks.B4], none.Bottles);
        Assert.False(none.IsWhole);

        static BottleEvent Discarded(double hour, Bottle bottle) => new(SomeBooks.Stamp(hour), bottle.Id, BottleEventKind.Discarded);
    }

    [Fact]
    public void Nothing_used_yet_gives_the_only_ones_there_are()
    {
        Assert.Empty(LastUsed.Of(SomeBooks.Books(), SomeBooks.At(5)).Bottles);
        var books = new Ledger([SomeBooks.Tank, SomeBooks.Developer, SomeBooks.D7]);
        Assert.Equal([SomeBooks.D7], LastUsed.Of(books, SomeBooks.At(5)).Bottles);
        Assert.Same(SomeBooks.Tank, LastUsed.Of(books, SomeBooks.At(5)).Line);
        Assert.Empty(LastUsed.Of(books, SomeBooks.At(1)).Bottles);
        Assert.Empty(LastUsed.Of(books, SomeBooks.At(5), "e6").Bottles);
    }

    [Fact]
    public void Bottle_at_hand_is_that_of_the_last_entry_of_the_session()
    {
        var opened = new BottleEvent(SomeBooks.Stamp(12), SomeBooks.D8.Id, BottleEventKind.Opened);

        Assert.Same(SomeBooks.D8, LastUsed.AtHand(SomeBooks.Books(SomeBooks.Use(11, null, SomeBooks.D7), opened), SomeBooks.At(13)));
        Assert.Null(LastUsed.AtHand(SomeBooks.Books(opened), SomeBooks.At(100)));
        Assert.Null(LastUsed.AtHand(SomeBooks.Books(SomeBooks.Use(11, null, SomeBooks.D7, SomeBooks.B4)), SomeBooks.At(12)));
    }
}

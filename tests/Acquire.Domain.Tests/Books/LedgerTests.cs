namespace Acquire.Domain.Tests.Books;

public sealed class LedgerTests
{
    [Fact]
    public void States_are_the_same_in_whatever_order_the_entries_were_made() => Gen.Select(
        BooksGens.Entries, BooksGens.Moment, Gen.Int[0, 1000]).Sample((entries, at, seed) =>
    {
        var (given, shuffled) =
            (BooksGens.Books(entries), BooksGens.Books(entries.OrderBy(e => (e.HappenedAt.Ticks * 7919L) ^ (seed * 104729L)).ToArray()));

        Assert.Equal(given.At(BooksGens.Bottle, at), shuffled.At(BooksGens.Bottle, at));
        Assert.Equal(given.At(BooksGens.Line, at), shuffled.At(BooksGens.Line, at));
        Assert.Equal(given.StockAt(BooksGens.Lot, at), shuffled.StockAt(BooksGens.Lot, at));
    });

    [Fact]
    public void Withdrawn_entry_counts_as_if_it_had_never_been_made() => Gen.Select(BooksGens.Entries, BooksGens.Moment, Gen.Int[0, 29])
        .Sample((entries, at, which) =>
    {
        if (entries.Length == 0)
        {
            return;
        }

        var wrong = entries[which % entries.Length];
        var withdrawn = BooksGens.Books([.. entries, new Withdrawal(BooksGens.Stamp(0), wrong.Id, "twice")]);
        var never = BooksGens.Books(entries.Where(e => e != wrong));

        Assert.Equal(never.At(BooksGens.Bottle, at), withdrawn.At(BooksGens.Bottle, at));
        Assert.Equal(never.At(BooksGens.Line, at), withdrawn.At(BooksGens.Line, at));
        Assert.Equal(never.StockAt(BooksGens.Lot, at), withdrawn.StockAt(BooksGens.Lot, at));
        Assert.Contains(wrong, withdrawn.Entered);
    });

    [Fact]
    public void Entries_of_the_same_moment_count_in_the_order_of_entry()
    {
        LineMethod first = new(BooksGens.Stamp(10), BooksGens.Line.Id, "slow", null, null), second =
            new(BooksGens.Stamp(10), BooksGens.Line.Id, "fast", null, null);

        Assert.Equal("fast", BooksGens.Books(first, second).At(BooksGens.Line, BooksGens.At(10)).Agitation);
        Assert.Equal("slow", BooksGens.Books(second, first).At(BooksGens.Line, BooksGens.At(10)).Agitation);
    }

    [Fact]
    public void Bottle_is_in_use_from_filling_to_discarding()
    {
        var books = BooksGens.Books(new BottleEvent(BooksGens.Stamp(500), BooksGens.Bottle.Id, BottleEventKind.Discarded));

        Assert.Empty(books.BottlesInUse(BooksGens.At(79)));
        Assert.Single(books.BottlesInUse(BooksGens.At(80)));
        Assert.Single(books.BottlesInUse(BooksGens.At(499)));
        Assert.Empty(books.BottlesInUse(BooksGens.At(500)));
    }

    [Fact]
    public void Dependents_are_the_entries_that_rest_on_one()
    {
        var use = new FilmUse(BooksGens.Stamp(90), [FilmCount.OfArea(0.1)], [BooksGens.Bottle.Id], null);
        var books = BooksGens.Books(use);

        Assert.Equal([use], books.Dependents(BooksGens.Bottle.Id));
        Assert.Equal([BooksGens.Bottle], books.Dependents(BooksGens.Mix.Id));
        Assert.Empty(books.Dependents(use.Id));
    }
}

namespace Acquire.Domain.Tests.Books;

public sealed class BottleStateTests
{
    [Fact]
    public void Volume_is_conserved() => Gen.Select(BooksGens.Entries, BooksGens.Moment).Sample((entries, at) =>
    {
        var state = BooksGens.Books(entries).At(BooksGens.Bottle, at);

        Assert.Equal(state.Filled + state.ToppedUp, state.Left - state.Overdrawn + state.Poured + state.Discarded, 9);
        Assert.True(state.Left >= 0 && state.Overdrawn >= 0 && (state.Left == 0 || state.Overdrawn == 0));
        Assert.True(state.FillShare is >= 0 and <= 1 && state.Headspace is >= 0 and <= 1.5);
    });

    [Fact]
    public void Area_and_openings_never_shrink_and_the_age_grows_with_the_clock_until_the_discard() => Gen.Select(
        BooksGens.Entries, BooksGens.Moment, BooksGens.Moment).Sample((entries, one, other) =>
    {
        var books = BooksGens.Books(entries);
        var (early, late) = one <= other ? (one, other) : (other, one);
        var (before, after) = (books.At(BooksGens.Bottle, early), books.At(BooksGens.Bottle, late));

        Assert.True(before.AreaUsed >= 0 && before.AreaUsed <= after.AreaUsed);
        Assert.True(before.Openings <= after.Openings);
        Assert.True((before.OpenedAt is null) == (before.Openings == 0));
        var stands = before.DiscardedAt is not null ? TimeSpan.Zero : (after.DiscardedAt ?? late) - early;
        Assert.True(before.Age is null || after.Age == before.Age + stands);
        Assert.True(
            before.SinceOpening is null || before.At < BooksGens.Bottle.HappenedAt || after.SinceOpening == before.SinceOpening + stands);
        Assert.True(after.SinceOpening is null || after.At < BooksGens.Bottle.HappenedAt || after.SinceOpening <= after.Age);
    });

    [Fact]
    public void Area_is_the_sum_of_the_uses_until_the_moment() => Gen.Select(BooksGens.Entries, BooksGens.Moment).Sample((entries, at) =>
        Assert.Equal(
            entries.OfType<FilmUse>().Where(u => u.HappenedAt <= at).Sum(u => u.Area),
            BooksGens.Books(entries).At(BooksGens.Bottle, at).AreaUsed,
            9));

    [Fact]
    public void Evening_of_uses_is_one_opening_and_the_next_evening_another()
    {
        var state = BooksGens.Books(Use(100), Use(160), Opened(300), Use(100 + (24 * 60))).At(BooksGens.Bottle, BooksGens.At(5000));

        Assert.Equal(2, state.Openings);
        Assert.Equal(BooksGens.At(100), state.OpenedAt);
    }

    [Fact]
    public void Use_entered_for_a_time_before_the_mix_counts_and_opens_the_bottle_when_it_was_filled()
    {
        var books = BooksGens.Books(Use(20));

        Assert.Null(books.At(BooksGens.Bottle, BooksGens.At(30)).Age);
        Assert.Equal(0.2, books.At(BooksGens.Bottle, BooksGens.At(30)).AreaUsed);
        var later = books.At(BooksGens.Bottle, BooksGens.At(180));
        Assert.Equal(TimeSpan.FromMinutes(120), later.Age);
        Assert.Equal(TimeSpan.FromMinutes(100), later.SinceOpening);
        Assert.Equal(0.2, later.AreaUsed);
    }

    [Fact]
    public void Strip_is_told_what_it_met_without_its_own_area()
    {
        var strip = Guid.NewGuid();
        var own = new FilmUse(BooksGens.Stamp(100), [FilmCount.Of(FilmFormat.ControlStrip)], [BooksGens.Bottle.Id], null, strip);
        var books = BooksGens.Books(Use(100), own);

        Assert.Equal(0.2, books.At(BooksGens.Bottle, BooksGens.At(100), strip).AreaUsed);
        Assert.Equal(0.2084, books.At(BooksGens.Bottle, BooksGens.At(100)).AreaUsed, 12);
    }

    [Fact]
    public void Stored_anew_changes_what_is_named_and_keeps_the_rest()
    {
        var state = BooksGens.Books(
            new BottleEvent(BooksGens.Stamp(200), BooksGens.Bottle.Id, BottleEventKind.StoredAnew, storage: new BottleStorage(gas: "air")))
            .At(BooksGens.Bottle, BooksGens.At(200));

        Assert.Equal(new BottleStorage("glass", 1.5, "air", 18), state.Storage);
    }

    [Fact]
    public void Discarded_bottle_has_nothing_left_and_what_was_left_is_counted()
    {
        var books = BooksGens.Books(
            new BottleEvent(BooksGens.Stamp(90), BooksGens.Bottle.Id, BottleEventKind.Poured, 0.4),
            new BottleEvent(BooksGens.Stamp(95), BooksGens.Bottle.Id, BottleEventKind.Discarded));
        var state = books.At(BooksGens.Bottle, BooksGens.At(95));

        Assert.Equal((0, 0), (state.Left, state.Overdrawn));
        Assert.Equal(0.6, state.Discarded, 12);
        Assert.Equal(BooksGens.At(95), state.DiscardedAt);
        Assert.Null(books.At(BooksGens.Bottle, BooksGens.At(94)).DiscardedAt);
    }

    [Fact]
    public void Discarded_bottle_keeps_the_age_it_had_then()
    {
        var books = BooksGens.Books(Opened(300), new BottleEvent(BooksGens.Stamp(500), BooksGens.Bottle.Id, BottleEventKind.Discarded));
        var (then, late) = (books.At(BooksGens.Bottle, BooksGens.At(500)), books.At(BooksGens.Bottle, BooksGens.At(50_000)));

        Assert.Equal((then.Age, TimeSpan.FromMinutes(200)), (late.Age, late.SinceOpening));
        Assert.Equal(BooksGens.At(500) - late.Solution.HappenedAt, late.Age);
    }

    [Fact]
    public void Half_poured_and_topped_up_bottle_has_its_fill_headspace_and_use_per_litre()
    {
        var state = BooksGens.Books(
            new BottleEvent(BooksGens.Stamp(90), BooksGens.Bottle.Id, BottleEventKind.Poured, 0.5),
            new BottleEvent(BooksGens.Stamp(91), BooksGens.Bottle.Id, BottleEventKind.ToppedUp, 0.25),
            Use(92)).At(BooksGens.Bottle, BooksGens.At(92));

        Assert.Equal(0.75, state.Left, 12);
        Assert.Equal(0.5, state.FillShare!.Value, 12);
        Assert.Equal(0.75, state.Headspace!.Value, 12);
        Assert.Equal(0.2 / 1.25, state.AreaPerLitre!.Value, 12);
    }

    private static FilmUse Use(int minute) => new(BooksGens.Stamp(minute), [FilmCount.OfArea(0.2)], [BooksGens.Bottle.Id], null);

    private static BottleEvent Opened(int minute) => new(BooksGens.Stamp(minute), BooksGens.Bottle.Id, BottleEventKind.Opened);
}

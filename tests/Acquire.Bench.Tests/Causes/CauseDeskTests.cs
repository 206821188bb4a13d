using Acquire.Analysis.Control;
using Acquire.Bench.Causes;
using Acquire.Bench.Tests.Books;

namespace Acquire.Bench.Tests.Causes;

public sealed class CauseDeskTests : IDisposable
{
    private readonly StudyStore _studies = new();

    public void Dispose() => _studies.Dispose();

    [Fact]
    public async Task Books_tell_age_use_mix_repair_pause_thaws_and_expiry()
    {
        var strip = StudyStore.Strip(30, 0);
        await using var store = await _studies.OpenAsync(
            [strip], new StripLot("2417", "c41", strip.Layout, expires: DateOnly.FromDateTime(Some.Moment.AddDays(29).UtcDateTime)));
        await store.AddBookEntriesAsync(
            [
                SomeBooks.Tank, SomeBooks.Developer, SomeBooks.D7, SomeBooks.Use(3, SomeBooks.Tank, SomeBooks.D7),
                new BookEvent(SomeBooks.Stamp(24 * 28), BookEventKind.Repair, "heater changed", SomeBooks.Tank.Id),
                new BookEvent(SomeBooks.Stamp(24 * 10), BookEventKind.NewMix, "bleach mixed"),
                new StockMove(SomeBooks.Stamp(0), "2417", StockMoveKind.Added, 10),
                new StockMove(SomeBooks.Stamp(1), "2417", StockMoveKind.Taken, 2),
                new StockMove(SomeBooks.Stamp(2), "2417", StockMoveKind.Returned, 2),
                new StockMove(SomeBooks.Stamp(3), "2417", StockMoveKind.Taken, 1),
            ],
            TestContext.Current.CancellationToken);

        var context = (await LoadAsync(store, strip)).Context;

        Assert.Equal(30 - (1 / 24.0), context.AgeDays!.Value, 1e-6);
        Assert.Equal(30 - (3 / 24.0), context.PauseDays!.Value, 1e-6);
        Assert.Equal(2 * FilmFormat.Find("135-36")!.Area / FilmFormat.Roll, context.RollsPerLitre!.Value, 1e-9);
        Assert.Equal(
            (true, false, true, true, 2), (context.Repaired, context.NewMix, context.LotExpired, context.CheckLacking, context.Thaws));
    }

    [Fact]
    public async Task Reading_is_weighed_by_all_that_the_store_knows_of_the_instrument()
    {
        var strip = StudyStore.Strip(30, 0.02);
        await using var alone = await _studies.OpenAsync([strip]);
        // Strips that name no instrument either were read by the same one, and each patch six times.
        await using var known = await _studies.OpenAsync([strip, .. Enumerable.Range(1, 5).Select(d => ReadOften(StudyStore.Strip(d, 0)))]);

        var (before, after) = (await LoadAsync(alone, strip), await LoadAsync(known, strip));

        Assert.True(before.Context.Ground(strip).Instrument.At(Channel.Red, 1).IsAssumed);
        Assert.False(after.Context.Ground(strip).Instrument.At(Channel.Red, 1).IsAssumed);
        // What is known better leaves less to chance.
        Assert.True(after.Study.NothingProbability < before.Study.NothingProbability);
    }

    private static StripRecord ReadOften(StripRecord strip)
    {
        ImmutableArray<PatchReads> patches = [.. strip.Patches.Select(p => p with { Reads = [.. Enumerable.Repeat(p.Reads[0], 6)] })];
        return strip with { Patches = patches, Means = PatchMeans.Of(patches) };
    }

    [Fact]
    public async Task Event_of_another_line_is_none_of_this_strips()
    {
        var strip = StudyStore.Strip(30, 0);
        await using var store = await _studies.OpenAsync([strip]);
        await store.AddBookEntriesAsync(
            [SomeBooks.Tank, SomeBooks.Machine, new BookEvent(
                SomeBooks.Stamp(24 * 29),
                BookEventKind.Repair,
                "pump changed",
                SomeBooks.Machine.Id)], TestContext.Current.CancellationToken);

        Assert.False((await LoadAsync(store, strip)).Context.Repaired);
    }

    [Fact]
    public async Task Strip_without_books_or_history_knows_nothing()
    {
        var strip = StudyStore.Strip(0, 0);
        await using var store = await _studies.OpenAsync([strip]);

        var found = await LoadAsync(store, strip);

        Assert.Equal(
            (null, null, null, null, null),
            (found.Context.Shape, found.Context.AgeDays, found.Context.PauseDays, found.Context.Thaws, found.Context.RollsPerLitre));
        Assert.Equal((0, false, false), (found.StripsBefore, found.Context.NewMix, found.Context.LotExpired));
    }

    [Fact]
    public async Task Jump_and_creep_before_the_strip_are_told_apart_and_what_comes_later_plays_no_part()
    {
        Assert.Equal(DriftShape.Jump, await ShapeAsync(i => i < 20 ? 0 : -0.09, 25));
        Assert.Equal(DriftShape.Gradual, await ShapeAsync(i => i < 12 ? 0 : -0.007 * (i - 11), 25));
        Assert.Null(await ShapeAsync(i => i <= 25 ? 0 : -0.15, 25));
    }

    [Fact]
    public async Task What_came_at_once_is_weighed_against_the_strip_before_it_in_the_same_bottle()
    {
        var random = new Random(6);
        var strips = Enumerable.Range(0, 26).Select(i => StudyStore.Strip(
            i, (i < 20 ? -0.03 : -0.12) + (0.008 * (random.NextDouble() - 0.5))) with { Tags = StudyStore.Tank(i < 14 ? "D6" : "D7") })
                .ToArray();
        var second = StudyStore.Strip(25.1, -0.12) with { Tags = StudyStore.Tank("D7") with { Confirms = strips[25].Id } };
        await using var store = await _studies.OpenAsync([.. strips, second]);

        Assert.Equal(strips[19].Id, (await LoadAsync(store, strips[25])).Context.Before!.Id);
        Assert.Equal(strips[19].Id, (await LoadAsync(store, second)).Context.Before!.Id);
        Assert.Null((await LoadAsync(store, strips[19])).Context.Before);
    }

    [Fact]
    public async Task Fresh_bottle_has_no_strip_before()
    {
        var random = new Random(6);
        var strips = Enumerable.Range(0, 26)
            .Select(i => StudyStore.Strip(
                i, (i < 20 ? 0 : -0.09) + (0.008 * (random.NextDouble() - 0.5))) with { Tags = StudyStore.Tank(i < 20 ? "D6" : "D7") })
            .ToArray();
        await using var store = await _studies.OpenAsync(strips);

        var context = (await LoadAsync(store, strips[25])).Context;
        Assert.Equal((DriftShape.Jump, null), (context.Shape, context.Before));
    }

    [Fact]
    public async Task Strip_treated_again_is_weighed_as_it_was_before()
    {
        var strip = StudyStore.Strip(0, 0, "retained-silver");
        var again = StudyStore.Strip(1, 0) with { Tags = StudyStore.Tank("D7") with { Reread = new Reread(strip.Id, Treatment.ReBleach) } };
        await using var store = await _studies.OpenAsync([strip, again]);

        var (fromFirst, fromAgain) = (await LoadAsync(store, strip), await LoadAsync(store, again));

        Assert.All([fromFirst, fromAgain], f => Assert.Equal(strip.Id, f.Strip.Id));
        Assert.All([fromFirst, fromAgain], f => Assert.Contains("retained-silver", f.Context.BorneOut));
        Assert.DoesNotContain("retained-silver", (await LoadAsync(store, strip, "retained-silver")).Context.BorneOut);
    }

    private async Task<DriftShape?> ShapeAsync(Func<int, double> moved, int at)
    {
        var random = new Random(6);
        var strips = Enumerable.Range(0, 32).Select(i => StudyStore.Strip(i, moved(i) + (0.008 * (random.NextDouble() - 0.5)))).ToArray();
        await using var store = await _studies.OpenAsync(strips);
        return (await LoadAsync(store, strips[at])).Context.Shape;
    }

    private Task<CauseCase> LoadAsync(AcquireStore store, StripRecord strip, params string[] ruledOut) =>
        new CauseDesk(store, _studies.Time).AskAsync(new CauseAsked(strip.Id.ToString(), ruledOut), TestContext.Current.CancellationToken);
}

using Acquire.Analysis.Causes;
using Acquire.Analysis.Control;
using Acquire.Bench.Causes;
using Acquire.Bench.Tests.Books;
using Acquire.Formats.ProcessSheets;

namespace Acquire.Bench.Tests.Causes;

public sealed class CauseContextsTests : IDisposable
{
    private static readonly ProcessSheet C41 = ShippedSheets.Get("c41");
    private readonly string _folder = Directory.CreateTempSubdirectory("acquire-causes-").FullName;
    private readonly FakeTimeProvider _time = new(Some.Moment.AddDays(100));

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public async Task Books_tell_age_use_mix_repair_pause_thaws_and_expiry()
    {
        var strip = Strip(30, 0);
        await using var store = await StoreAsync(
            new StripLot("2417", "c41", C41.Layout, expires: DateOnly.FromDateTime(Some.Moment.AddDays(29).UtcDateTime)), strip);
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
    public async Task Event_of_another_line_is_none_of_this_strips()
    {
        var strip = Strip(30, 0);
        await using var store = await StoreAsync(null, strip);
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
        var strip = Strip(0, 0);
        await using var store = await StoreAsync(null, strip);

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
        var strips = Enumerable.Range(0, 26).Select(i => Strip(
            i, (i < 20 ? -0.03 : -0.12) + (0.008 * (random.NextDouble() - 0.5))) with { Tags = Tank(i < 14 ? "D6" : "D7") }).ToArray();
        var second = Strip(25.1, -0.12) with { Tags = Tank("D7") with { Confirms = strips[25].Id } };
        await using var store = await StoreAsync(null, [.. strips, second]);

        Assert.Equal(strips[19].Id, (await LoadAsync(store, strips[25])).Context.Before!.Id);
        Assert.Equal(strips[19].Id, (await LoadAsync(store, second)).Context.Before!.Id);
        Assert.Null((await LoadAsync(store, strips[19])).Context.Before);
    }

    [Fact]
    public async Task Fresh_bottle_has_no_strip_before()
    {
        var random = new Random(6);
        var strips = Enumerable.Range(0, 26)
            .Select(i => Strip(i, (i < 20 ? 0 : -0.09) + (0.008 * (random.NextDouble() - 0.5))) with { Tags = Tank(i < 20 ? "D6" : "D7") })
            .ToArray();
        await using var store = await StoreAsync(null, strips);

        var context = (await LoadAsync(store, strips[25])).Context;
        Assert.Equal((DriftShape.Jump, null), (context.Shape, context.Before));
    }

    [Fact]
    public async Task Strip_treated_again_is_weighed_as_it_was_before()
    {
        var strip = Strip(0, 0, "retained-silver");
        var again = Strip(1, 0) with { Tags = Tank("D7") with { Reread = new Reread(strip.Id, Treatment.ReBleach) } };
        await using var store = await StoreAsync(null, strip, again);

        var (fromFirst, fromAgain) = (await LoadAsync(store, strip), await LoadAsync(store, again));

        Assert.All([fromFirst, fromAgain], f => Assert.Equal(strip.Id, f.Strip.Id));
        Assert.All([fromFirst, fromAgain], f => Assert.Contains("retained-silver", f.Context.BorneOut));
        Assert.DoesNotContain("retained-silver", (await LoadAsync(store, strip, "retained-silver")).Context.BorneOut);
    }

    private async Task<DriftShape?> ShapeAsync(Func<int, double> moved, int at)
    {
        var random = new Random(6);
        var strips = Enumerable.Range(0, 32).Select(i => Strip(i, moved(i) + (0.008 * (random.NextDouble() - 0.5)))).ToArray();
        var folder = Directory.CreateDirectory(Path.Combine(_folder, Guid.NewGuid().ToString())).FullName;
        await using var store = await StoreAsync(folder, null, strips);
        return (await LoadAsync(store, strips[at])).Context.Shape;
    }

    private Task<CauseCase> LoadAsync(AcquireStore store, StripRecord strip, params string[] ruledOut) =>
        CauseContexts.LoadAsync(store, strip, ruledOut, _time, TestContext.Current.CancellationToken);

    private Task<AcquireStore> StoreAsync(StripLot? lot, params StripRecord[] strips) => StoreAsync(_folder, lot, strips);

    private async Task<AcquireStore> StoreAsync(string folder, StripLot? lot, params StripRecord[] strips)
    {
        var store = await EmptyStore.OpenAsync(folder, _time, TestContext.Current.CancellationToken);
        await store.AddLotAsync(lot ?? new StripLot("2417", "c41", C41.Layout), TestContext.Current.CancellationToken);
        foreach (var strip in strips)
        {
            await store.AddStripAsync(strip, TestContext.Current.CancellationToken);
        }

        return store;
    }

    /// <summary>A strip whose HD is moved, or that has a fault, about aims of 1.00.</summary>
    private static StripTags Tank(string bottle) => new() { Line = "dip tank", Bottle = bottle };

    private static StripRecord Strip(double day, double hd, string? fault = null)
    {
        var at = Some.Moment.AddDays(day);
        decimal Shown(string key, Channel channel) => Math.Round(
            (decimal)(1 + (key == "hd" ? hd : 0) + (fault is null ? 0 : FaultSignatures.Find(fault)!.Size(key, channel))), 3) + 0.000m;
        ImmutableArray<PatchReads> patches =
        [
            .. C41.Layout.Patches.Select(p => new PatchReads(
                p, [new PatchRead(Reading.Entered(
                    ChannelDensities.Rgb(Shown(p.Key, Channel.Red), Shown(p.Key, Channel.Green), Shown(p.Key, Channel.Blue)), at))])),
        ];
        return new StripRecord(
            Guid.CreateVersion7(at),
            "2417",
            C41.Layout,
            C41,
            patches,
            PatchMeans.Of(patches),
            [.. from p in C41.Layout.Patches from c in Channels.Colours select new Aim(p.Key, c, 1, 0, 0.002)],
            new Provenance(at, "darkroom staff", null),
            Revision.First("darkroom staff", at, "read"))
        {
            Tags = Tank("D7"),
        };
    }
}

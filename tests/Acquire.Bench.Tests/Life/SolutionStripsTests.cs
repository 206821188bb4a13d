using Acquire.Bench.History;
using Acquire.Bench.Life;
using Acquire.Bench.Tests.Books;
using Acquire.Formats.ProcessSheets;
using Acquire.Storage.Records;

namespace Acquire.Bench.Tests.Life;

public sealed class SolutionStripsTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("acquire-life-").FullName;
    private readonly FakeTimeProvider _time = new(Some.Moment.AddDays(100));

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public async Task Developer_is_the_bottle_of_the_record_and_bleach_that_of_the_use()
    {
        var (with, without, unknown) = (Strip(10, "D7"), Strip(11, "D8"), Strip(12, "X1"));
        var history = await LoadAsync(
            [with, without, unknown],
            new FilmUse(
                SomeBooks.Stamp(240),
                [FilmCount.Of(FilmFormat.ControlStrip)],
                [SomeBooks.D7.Id, SomeBooks.B4.Id],
                SomeBooks.Tank.Id,
                with.Id));

        var developer = SolutionStrips.Of(history, null, TimeZoneInfo.Utc);
        var bleach = SolutionStrips.Of(history, SolutionKind.Bleach, TimeZoneInfo.Utc);

        Assert.Equal((SolutionKind.Developer, 0), (developer.Kind, developer.WithoutSuch));
        Assert.Equal(["D7", "D8", "X1"], developer.Strips.Select(s => s.Bottle));
        Assert.Equal([false, false, true], developer.Strips.Select(s => s.AgeDays is null));
        Assert.Equal((1, 2), (bleach.WithoutSuch, bleach.Strips.Length));
        Assert.Equal(("B4", "bleach 4"), (bleach.Strips[0].Bottle, bleach.Strips[0].Solution));
        Assert.Equal((240 - 1) / 24.0, bleach.Strips[0].AgeDays!.Value, 1e-6);
    }

    [Fact]
    public async Task Bottles_that_bore_a_name_in_turn_are_told_apart()
    {
        var mix = new Solution(SomeBooks.Stamp(500), "dev 13", SolutionKind.Developer, "c41", 1);
        var history = await LoadAsync(
            [Strip(10, "D7"), Strip(30, "D7")],
            new BottleEvent(SomeBooks.Stamp(480), SomeBooks.D7.Id, BottleEventKind.Discarded),
            mix, new Bottle(SomeBooks.Stamp(504), "D7", mix.Id, 1, new BottleStorage()));

        var names = SolutionStrips.Of(history, null, TimeZoneInfo.Utc).Strips.Select(s => s.Bottle!).ToList();

        Assert.Equal(2, names.Distinct().Count());
        Assert.All(names, n => Assert.Matches(@"^D7 of \d{4}-\d\d-\d\d$", n));
    }

    private async Task<StripHistory> LoadAsync(StripRecord[] strips, params BookEntry[] more)
    {
        await using var store = await EmptyStore.OpenAsync(_folder, _time, TestContext.Current.CancellationToken);
        await store.AddLotAsync(new StripLot("2417", "c41", ShippedSheets.Get("c41").Layout), TestContext.Current.CancellationToken);
        foreach (var strip in strips)
        {
            await store.AddStripAsync(strip, TestContext.Current.CancellationToken);
        }

        await store.AddBookEntriesAsync([.. SomeBooks.Books(more).Entered], TestContext.Current.CancellationToken);
        return (await StripHistory.LoadAsync(store, new HistoryFilter(StripFilter.All), _time, TestContext.Current.CancellationToken))!;
    }

    private static StripRecord Strip(double day, string bottle)
    {
        var at = Some.Moment.AddDays(day);
        var sheet = ShippedSheets.Get("c41");
        ImmutableArray<PatchReads> patches =
            [.. sheet.Layout.Patches.Select(
                p => new PatchReads(p, [new PatchRead(Reading.Entered(ChannelDensities.Rgb(1.00m, 1.00m, 1.00m), at))]))];
        return new StripRecord(
            Guid.CreateVersion7(
                at), "2417", sheet.Layout, sheet, patches, PatchMeans.Of(patches), [new Aim("dmin", Channel.Red, 1, 0, 0.001)],
            new Provenance(at, "darkroom staff", null), Revision.First("darkroom staff", at, "read"))
        {
            Tags = new StripTags { Line = "dip tank", Bottle = bottle },
        };
    }
}

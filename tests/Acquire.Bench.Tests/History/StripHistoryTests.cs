using Acquire.Bench.History;
using Acquire.Formats.ProcessSheets;
using Acquire.Storage.Records;

namespace Acquire.Bench.Tests.History;

public sealed class StripHistoryTests : IDisposable
{
    private static readonly ProcessSheet C41 = ShippedSheets.Get("c41");
    private static readonly ProcessSheet House = new("house", "House process", C41.Status, C41.Layout, C41.Parameters);
    private readonly string _folder = Directory.CreateTempSubdirectory("acquire-history-").FullName;
    private readonly FakeTimeProvider _time = new(Some.Moment);

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public async Task Time_of_a_point_is_in_the_local_offset()
    {
        _time.SetLocalTimeZone(TimeZoneInfo.CreateCustomTimeZone("here", TimeSpan.FromHours(-5), "here", "here"));
        await using var store = await StoreAsync(Strip(0, "D7", C41));
        var point = (await LoadAsync(store, new HistoryFilter(StripFilter.All)))!.Strips.Single();
        Assert.Equal((Some.Moment, TimeSpan.FromHours(-5), 13), (point.At, point.At.Offset, point.At.Hour));
    }

    [Fact]
    public async Task Newest_strips_process_is_taken_and_others_are_counted()
    {
        await using var store = await StoreAsync(Strip(0, "D7", C41), Strip(1, "D7", House), Strip(2, "D7", C41));
        var history = await LoadAsync(store, new HistoryFilter(StripFilter.All));
        Assert.Equal(("c41", 2, 1), (history!.Sheet.Key, history.Strips.Length, history.OfOtherProcesses));
        Assert.Equal("house", (await LoadAsync(store, new HistoryFilter(StripFilter.All, Process: "house PROCESS")))!.Sheet.Key);
        Assert.Null(await LoadAsync(store, new HistoryFilter(StripFilter.All, Process: "e6")));
    }

    [Fact]
    public async Task Last_strips_are_counted_among_those_of_the_bottle()
    {
        await using var store = await StoreAsync(Strip(0, "D7", C41), Strip(1, "D7", C41), Strip(2, "D8", C41), Strip(3, "D8", C41));
        var history = await LoadAsync(store, new HistoryFilter(StripFilter.All with { Last = 1 }, Bottle: "d7"));
        Assert.Equal(Some.Moment.AddDays(1), history!.Strips.Single().At);
        Assert.Equal(0.02, history.Strips.Single().Judgement.Results.First(r => r.Parameter.Key == "dmin").Deviation!.Value, 1e-9);
    }

    [Fact]
    public async Task Books_tell_age_opening_area_storage_and_method_of_a_point()
    {
        await using var store = await StoreAsync(Strip(10, "D7", C41));
        EntryStamp Stamp(double day) =>
            new(Guid.CreateVersion7(Some.Moment.AddDays(day)), Some.Moment.AddDays(day), Some.Moment.AddDays(20), "staff");
        var line = new ProcessLine(Stamp(-9), "Dip tank", LineKind.DipTank, "c41");
        var mix = new Solution(Stamp(-2), "dev12", SolutionKind.Developer, "c41", 1);
        var bottle = new Bottle(Stamp(-1), "D7", mix.Id, 1, new BottleStorage("glass", 1, "argon"));
        await store.AddBookEntriesAsync(
            [
                line, new LineMethod(Stamp(-8), line.Id, "lift every 15 s", 37.8, TimeSpan.FromSeconds(195)), mix, bottle,
                new FilmUse(Stamp(4), [new FilmCount("120", 2, 0.05)], [bottle.Id], line.Id), new BookEvent(
                    Stamp(6), BookEventKind.Repair, "pump bearing changed"),
            ],
            TestContext.Current.CancellationToken);

        var history = (await LoadAsync(store, new HistoryFilter(StripFilter.All)))!;
        var point = history.Strips.Single();

        Assert.Equal((12.0, 6.0, 0.1), (point.AgeDays, point.OpenDays, Math.Round(point.AreaPerLitre!.Value, 9)));
        Assert.Equal(("D7", "dev12", "glass, full, argon"), (point.Bottle, point.Solution, point.Storage));
        Assert.Equal(["bottle filled", "repair"], history.Events.Select(e => e.Kind));
    }

    [Fact]
    public async Task Events_of_other_lines_and_bottles_are_left_out()
    {
        await using var store = await StoreAsync(Strip(10, "T1", C41, "Dip tank"), Strip(11, "M1", C41, "Machine"));
        EntryStamp Stamp(double day) =>
            new(Guid.CreateVersion7(Some.Moment.AddDays(day)), Some.Moment.AddDays(day), Some.Moment.AddDays(20), "staff");
        var (tank, machine) = (new ProcessLine(Stamp(-9), "Dip tank", LineKind.DipTank, "c41"),
            new ProcessLine(Stamp(-8.9), "Machine", LineKind.DipTank, "c41"));
        var mix = new Solution(Stamp(-2), "dev12", SolutionKind.Developer, "c41", 3);
        Bottle[] bottles = [.. new[] { "T1", "T2", "M1", "new" }.Select(
            (name, i) => new Bottle(Stamp(-1 + (0.1 * i)), name, mix.Id, 0.5, new BottleStorage("glass", 1, "argon")))];
        FilmUse Use(double day, Bottle bottle, ProcessLine line) => new(Stamp(day), [new FilmCount("120", 2, 0.05)], [bottle.Id], line.Id);
        await store.AddBookEntriesAsync(
            [
                tank, machine, mix, .. bottles, Use(4, bottles[0], tank), Use(4.1, bottles[1], tank), Use(4.2, bottles[2], machine),
                new BookEvent(Stamp(6), BookEventKind.Repair, "tank heater", tank.Id), new BookEvent(
                    Stamp(6.1), BookEventKind.Repair, "machine pump", machine.Id),
                new BookEvent(Stamp(6.2), BookEventKind.Pause, "holiday"), new BookEvent(
                    Stamp(6.3), BookEventKind.Other, "M1 smells", null, bottles[2].Id),
            ],
            TestContext.Current.CancellationToken);

        async Task<string[]> TextsAsync(HistoryFilter filter) =>
            [.. (await LoadAsync(store, filter))!.Events.Select(e => e.Text.Replace(" filled with dev12", "", StringComparison.Ordinal))];

        Assert.Equal(
            ["T1", "T2", "M1", "new", "tank heater", "machine pump", "holiday", "M1 smells"],
            await TextsAsync(new HistoryFilter(StripFilter.All)));
        Assert.Equal(
            ["T1", "T2", "new", "tank heater", "holiday"], await TextsAsync(new HistoryFilter(StripFilter.All with { Line = "dip tank" })));
        Assert.Equal(["M1", "machine pump", "holiday", "M1 smells"], await TextsAsync(new HistoryFilter(StripFilter.All, Bottle: "m1")));
    }

    private Task<StripHistory?> LoadAsync(AcquireStore store, HistoryFilter filter) =>
        StripHistory.LoadAsync(store, filter, _time, TestContext.Current.CancellationToken);

    private async Task<AcquireStore> StoreAsync(params StripRecord[] strips)
    {
        var store = await EmptyStore.OpenAsync(_folder, _time, TestContext.Current.CancellationToken);
        foreach (var lot in strips.Select(s => (s.LotCode, s.JudgedBy.Key)).Distinct())
        {
            await store.AddLotAsync(new StripLot(lot.LotCode, lot.Key, C41.Layout), TestContext.Current.CancellationToken);
        }

        foreach (var strip in strips)
        {
            await store.AddStripAsync(strip, TestContext.Current.CancellationToken);
        }

        return store;
    }

    private static StripRecord Strip(int day, string bottle, ProcessSheet sheet, string? line = null)
    {
        var at = Some.Moment.AddDays(day);
        ImmutableArray<PatchReads> patches =
            [.. C41.Layout.Patches.Select(
                p => new PatchReads(p, [new PatchRead(Reading.Entered(ChannelDensities.Rgb(0.52m, 0.52m, 0.52m), at))]))];
        return new StripRecord(
            Guid.CreateVersion7(at),
            sheet.Key + "-2417",
            C41.Layout,
            sheet,
            patches,
            PatchMeans.Of(patches),
            [new Aim("dmin", Channel.Red, 0.50, 0, 0.001)],
            new Provenance(at, "darkroom staff", null),
            Revision.First("darkroom staff", at, "read"))
        {
            Tags = new StripTags { Bottle = bottle, Line = line },
        };
    }
}

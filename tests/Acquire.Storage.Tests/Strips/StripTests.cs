using Acquire.Storage.Records;

namespace Acquire.Storage.Tests.Strips;

public sealed class StripTests : StoreFixture
{
    [Fact]
    public async Task AddStrip_revisions_must_count_up()
    {
        await Store.AddLotAsync(Some.Lot, Token);
        var strip = Some.Strip();

        Assert.Equal(StoreFault.Conflict, await FaultAsync(Some.Strip(strip.Id, 2)));
        await Store.AddStripAsync(strip, Token);
        Assert.Equal(StoreFault.Conflict, await FaultAsync(strip));
        Assert.Equal(StoreFault.Conflict, await FaultAsync(Some.Strip(strip.Id, 3)));
    }

    [Fact]
    public async Task AddStrip_correction_keeps_both_and_the_newest_is_found()
    {
        await Store.AddLotAsync(Some.Lot, Token);
        var strip = Some.Strip();
        var corrected = Some.Strip(strip.Id, 2, line: "bench-top machine");
        await Store.AddStripAsync(strip, Token);
        await Store.AddStripAsync(corrected, Token);

        Deep.Equal(corrected, await Store.FindStripAsync(strip.Id.ToString(), Token));
        Deep.Equal(new[] { strip, corrected }, (await Store.StripRevisionsAsync(strip.Id, Token)).ToArray());
        Assert.Equal([2], await ListAsync(StripFilter.All).Select(s => s.Revision.Number).ToListAsync(Token));
        Assert.Empty(await ListAsync(new() { Line = "dip tank" }).ToListAsync(Token));
    }

    [Fact]
    public async Task AddStrip_unknown_lot_session_or_reference_is_refused()
    {
        Assert.Equal(StoreFault.NotFound, await FaultAsync(Some.Strip()));
        await Store.AddLotAsync(Some.Lot, Token);
        Assert.Equal(StoreFault.NotFound, await FaultAsync(Some.Strip() with { SessionId = Guid.NewGuid() }));
        Assert.Equal(StoreFault.NotFound, await FaultAsync(Some.Strip() with { ReferenceId = Guid.NewGuid() }));
    }

    [Fact]
    public async Task AddStrip_same_sheet_is_stored_once()
    {
        await Store.AddLotAsync(Some.Lot, Token);
        await Store.AddStripAsync(Some.Strip(), Token);
        await Store.AddStripAsync(Some.Strip(), Token);

        Assert.Equal(1, await Store.WriteAsync(db => db.Scalar<long>("SELECT count(*) FROM process_snapshot"), Token));
        Assert.Equal(
            ["action -0.06 0.06", "action -0.07 0.07", "control -0.08 0.08", "control -0.09 0.09", "control  0.09"],
            await Store.WriteAsync(
                db => db.Query<string>(
                    "SELECT DISTINCT concat(kind, ' ', lower, ' ', upper) AS t FROM strip_limit ORDER BY kind, lower IS NULL, upper"),
                    Token));
    }

    [Fact]
    public async Task AddStrip_limits_of_a_single_channel_are_in_the_tables()
    {
        await Store.AddLotAsync(Some.Lot, Token);
        await Store.AddStripAsync(Some.Strip(judgedBy: Some.SheetWithOwnLimits), Token);

        Assert.Equal(
            ["all action -0.06 0.06 sheet in the "
                + "box", "all control -0.08 0.08 sheet in the box", "blue action -0.03 0.12 our own", "blue control"],
            await Store.WriteAsync(
                db => db.Query<string>(
                    "SELECT concat_ws(' ', coalesce(channel, 'all'), kind, lower, upper, source) AS t FROM strip_limit WHERE "
                    + "parameter_key = 'speed' ORDER BY t"),
                Token));
    }

    [Theory]
    [InlineData("0195a1b2-0000-7000-8000-00000000aaaa", 1)]
    [InlineData("0195A1B200007000800000000000AAAA", 1)]
    [InlineData("aaaa", 1)]
    [InlineData("bbbb", 2)]
    [InlineData("0000bb", 2)]
    [InlineData("0195a1b3", 3)]
    [InlineData("0195a1b3-0000-7", 3)]
    [InlineData("cccc", 0)]
    [InlineData("aaa", 0)]
    [InlineData("%", 0)]
    [InlineData("", 0)]
    [InlineData("____", 0)]
    public async Task FindStrip_whole_beginning_end_or_beginning_of_the_short_form(string text, int expected)
    {
        var ids = await AddThreeAsync();

        var found = await Store.FindStripAsync(text, Token);

        Assert.Equal(expected == 0 ? null : ids[expected - 1], found?.Id);
    }

    [Fact]
    public async Task FindStrip_part_of_two_is_refused_and_both_are_named()
    {
        var ids = await AddThreeAsync();

        var error = await Assert.ThrowsAsync<StoreException>(() => Store.FindStripAsync("0195a1b2", Token));

        Assert.Equal(StoreFault.Ambiguous, error.Fault);
        Assert.All(ids.Take(2), id => Assert.Contains(id.ToString(), error.Message, StringComparison.Ordinal));
    }

    [Fact]
    public async Task ListStrips_filters_and_orders_by_reading()
    {
        await Store.AddLotAsync(Some.Lot, Token);
        await Store.AddLotAsync(new("B2", "c41", Some.Layout), Token);
        // 150 strips are more than a page; they are added in another order than they were read in.
        foreach (var day in Enumerable.Range(0, 150).OrderBy(d => d * 7 % 150))
        {
            await Store.AddStripAsync(
                Some.Strip(lot: day % 2 == 0 ? "A1207" : "b2", at: Some.Evening.AddDays(day), line: day % 3 == 0 ? "Dip tank" : null),
                Token);
        }

        Assert.Equal(Enumerable.Range(0, 150), await DaysAsync(StripFilter.All));
        Assert.Equal([147, 148, 149], await DaysAsync(new() { Last = 3 }));
        Assert.Equal([145, 147, 149], await DaysAsync(new() { LotCode = "B2", Last = 3 }));
        Assert.Equal(
            [6, 9], await DaysAsync(new() { Line = "dip TANK", From = Some.Evening.AddDays(4), Before = Some.Evening.AddDays(12) }));
        Assert.Empty(await DaysAsync(new() { Last = 0 }));
        Assert.Empty(await DaysAsync(new() { LotCode = "' OR 1=1 --" }));
    }

    [Fact]
    public async Task ListStrips_strip_added_meanwhile_is_not_in_it()
    {
        await Store.AddLotAsync(Some.Lot, Token);
        await Store.AddStripAsync(Some.Strip(), Token);
        var seen = 0;
        await foreach (var _ in ListAsync(StripFilter.All))
        {
            seen++;
            await Store.AddStripAsync(Some.Strip(), Token);
        }

        Assert.Equal(1, seen);
    }

    private IAsyncEnumerable<StripRecord> ListAsync(StripFilter filter) => Store.ListStripsAsync(filter, Token);

    private async Task<List<int>> DaysAsync(StripFilter filter) =>
        await ListAsync(filter).Select(s => (int)(s.Provenance.At - Some.Evening).TotalDays).ToListAsync(Token);

    private async Task<StoreFault> FaultAsync(StripRecord strip) =>
        (await Assert.ThrowsAsync<StoreException>(() => Store.AddStripAsync(strip, Token))).Fault;

    private async Task<Guid[]> AddThreeAsync()
    {
        await Store.AddLotAsync(Some.Lot, Token);
        Guid[] ids =
        [
            new("0195a1b2-0000-7000-8000-00000000aaaa"), new(
                "0195a1b2-0000-7000-8000-00000000bbbb"), new("0195a1b3-0000-7000-8000-0000000000dd"),
        ];
        foreach (var id in ids)
        {
            await Store.AddStripAsync(Some.Strip(id), Token);
        }

        return ids;
    }
}

namespace Acquire.Storage.Tests.Strips;

public sealed class StripRoundTripTests : StoreFixture
{
    private const int Records = 50;

    [Fact]
    public async Task Strip_any_reads_back_equal_after_reopening()
    {
        await Store.AddLotAsync(Some.Lot, Token);
        var written = new List<StripRecord>();
        await Gens.Strip(Some.Lot.Code).SampleAsync(
            async strip =>
            {
                await Store.AddStripAsync(strip, Token);
                written.Add(strip);
            },
            iter: Records,
            threads: 1);
        await ReopenAsync();

        foreach (var strip in written)
        {
            Deep.Equal(strip, await Store.FindStripAsync(strip.Id.ToString(), Token));
        }
    }

    [Fact]
    public async Task Lot_any_reads_back_equal_after_reopening()
    {
        var number = 0;
        var written = new List<Domain.Lots.StripLot>();
        await Gens.Lot.SampleAsync(
            async lot =>
            {
                lot = new(
                    $"{number++} {lot.Code}", lot.ProcessKey, lot.Layout, lot.CorrectionFactors, lot.Expires, lot.StorageRule, lot.Note);
                await Store.AddLotAsync(lot, Token);
                written.Add(lot);
            },
            iter: Records,
            threads: 1);
        await ReopenAsync();

        foreach (var lot in written)
        {
            Deep.Equal(lot, await Store.FindLotAsync(lot.Code, Token));
        }

        Assert.Equal(number, (await Store.ListLotsAsync(Token)).Count);
    }

    [Fact]
    public async Task Density_trailing_zeros_stay()
    {
        await Store.AddLotAsync(Some.Lot, Token);
        var strip = Some.Strip();
        await Store.AddStripAsync(strip, Token);

        var read = (await Store.FindStripAsync(strip.Id.ToString(), Token))!.Patches[0].Reads;

        Assert.Equal(["0.260", "0.26"], read.Select(r => r.Reading.Densities.Red.ToString()));
    }

    [Fact]
    public async Task Strip_of_session_names_the_lines_of_the_journal()
    {
        await Store.AddLotAsync(Some.Lot, Token);
        var session = Some.Session();
        await Store.BeginSessionAsync(session, Token);
        var strip = Some.Strip() with { SessionId = session.Id };
        var lines = strip.Patches.SelectMany(p => p.Reads).SelectMany(r => r.Reading.Lines).ToList();
        for (var i = 0; i < lines.Count; i++)
        {
            await Store.AppendAsync(session.Id, [], [new(i + 1, lines[i], Domain.Sessions.LineMeaning.Reading)], Token);
        }

        await Store.AddStripAsync(strip, Token);

        var places = await Store.WriteAsync(
            db => db.Query<long>("SELECT session_sequence FROM record_line ORDER BY patch_position, read_number, position"), Token);
        Assert.Equal([1L, 2, 3, 4, 5], places);
        Deep.Equal(strip, await Store.FindStripAsync(StripId.ShortForm(strip.Id), Token));
    }
}

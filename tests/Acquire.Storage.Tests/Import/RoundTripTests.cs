using System.Text;
using Acquire.Formats.Strips;
using Acquire.Formats.Tables;
using Acquire.Storage.Import;
using Microsoft.Extensions.Time.Testing;

namespace Acquire.Storage.Tests.Import;

/// <summary>Export, import into an empty store, export again: the same bytes, for records of everything that a record can hold.</summary>
[Trait("speed", "slow")]
public sealed class RoundTripTests : StoreFixture
{
    private const int Records = 60;

    [Fact]
    public async Task JsonLines_any_records_come_back_whole_and_byte_for_byte()
    {
        var strips = await FilledAsync();
        var first = await Store.ExportAsync(Imports.JsonLinesAsync);

        await using var other = await EmptyAsync();
        var read = await StripJsonLinesReader.ReadAsync(await FileAsync(first), Token).ToListAsync(Token);
        await other.ImportAsync(true, read.Select(r => Imports.Whole(r.Strip, r.Spot.Line)));

        Assert.Equal(Encoding.UTF8.GetString(first), Encoding.UTF8.GetString(await other.ExportAsync(Imports.JsonLinesAsync)));
        foreach (var strip in strips)
        {
            Deep.Equal(strip, await other.FindStripAsync(strip.Id.ToString(), Token));
        }
    }

    [Fact]
    public async Task Csv_any_reads_come_back_byte_for_byte()
    {
        var strips = (await FilledAsync()).ToDictionary(s => s.Id);
        var first = await Store.ExportAsync(StripReadsCsv.WriteAsync);

        var file = await FileAsync(first);
        var map = (await MapProposal.OfAsync(file, Some.Layout, Token)).Map;
        var read = await StripCsvReader.ReadAsync(file, map, DateStyle.Ymd, TimeZoneInfo.Utc, Token).ToListAsync(Token);

        await SameAsync(first, read, strips, StripReadsCsv.WriteAsync);
    }

    [Fact]
    public async Task Cgats_any_reads_come_back_byte_for_byte()
    {
        var strips = (await FilledAsync()).ToDictionary(s => s.Id);
        var first = await Store.ExportAsync(StripCgats.WriteAsync);

        var choices = new CgatsChoices(TimeZoneInfo.Utc, null, null, new Dictionary<string, string>());
        var read = await StripCgatsReader.ReadAsync(await FileAsync(first), choices, Token).ToListAsync(Token);

        Assert.DoesNotContain(first, b => b is > 0x7E or (< 0x20 and not (0x0A or 0x09)));
        await SameAsync(first, read, strips, StripCgats.WriteAsync);
    }

    [Theory]
    [InlineData("{\"strip\":\"x\"}")]
    [InlineData("{")]
    [InlineData("null")]
    [InlineData("[]")]
    [InlineData("{}")]
    [InlineData("7")]
    public async Task JsonLines_that_are_no_strip_name_the_line(string line)
    {
        var error = await Assert.ThrowsAsync<ImportException>(async () =>
            await StripJsonLinesReader.ReadAsync(await FileAsync(Encoding.UTF8.GetBytes("\n" + line + "\n")), Token).ToListAsync(Token));

        Assert.Contains(", line 2: ", error.Message, StringComparison.Ordinal);
    }

    /// <summary>Any one change of a byte gives a record or an error for the user, never another exception.</summary>
    [Fact]
    public async Task JsonLines_damaged_anywhere_never_crash()
    {
        var whole = Encoding.UTF8.GetBytes(await Exports.JsonAsync(new StripExport(Some.Strip(), [])));
        await Gen.Select(
            Gen.Int[0, whole.Length - 1],
            Gen.OneOf(Gen.Byte, Gen.Const((byte)'"'), Gen.Const((byte)'}'), Gen.Const((byte)'-'), Gen.Const((byte)'n'))).SampleAsync(
            async (place, value) =>
            {
                var file = Folder.In($"{Guid.NewGuid():N}.jsonl");
                await File.WriteAllBytesAsync(file, [.. whole[..place], value, .. whole[(place + 1)..]], Token);
                try
                {
                    _ = await StripJsonLinesReader.ReadAsync(file, Token).ToListAsync(Token);
                }
                catch (ImportException e)
                {
                    Assert.StartsWith(file, e.Message, StringComparison.Ordinal);
                }
            },
            iter: 600);
    }

    private async Task SameAsync(
        byte[] first,
        List<ImportedStrip> read,
        Dictionary<Guid, StripRecord> strips,
        Func<IAsyncEnumerable<StripRecord>, Stream, CancellationToken, Task> write)
    {
        await using var other = await EmptyAsync();
        await other.ImportAsync(true, read.Select(r => Imports.Table(r, strips[r.Id!.Value].Layout, strips[r.Id!.Value].JudgedBy)));
        Assert.Equal(Encoding.UTF8.GetString(first), Encoding.UTF8.GetString(await other.ExportAsync(write)));

        // What is there already is seen as such.
        Assert.All(
            await Store.ImportAsync(true, read.Select(r => Imports.Table(r, strips[r.Id!.Value].Layout, strips[r.Id!.Value].JudgedBy))),
            e => Assert.Equal((ImportFate.AlreadyThere, null), (e.Fate, e.Difference)));
    }

    private async Task<List<StripRecord>> FilledAsync()
    {
        await Store.AddLotAsync(Some.Lot, Token);
        var strips = new List<StripRecord>();
        await Gens.Strip(Some.Lot.Code).SampleAsync(
            async strip =>
            {
                await Store.AddStripAsync(strip, Token);
                strips.Add(strip);
            },
            iter: Records,
            threads: 1);
        return strips;
    }

    private async Task<string> FileAsync(byte[] bytes)
    {
        await File.WriteAllBytesAsync(Folder.In("strips.file"), bytes, Token);
        return Folder.In("strips.file");
    }

    private Task<AcquireStore> EmptyAsync() => EmptyStore.OpenAsync(Folder.In("other"), new FakeTimeProvider(Some.Evening), Token);
}

using Acquire.Formats.Strips;
using Acquire.Storage.Import;
using Acquire.Storage.Records;

namespace Acquire.Storage.Tests.Import;

/// <summary>Imports and exports for tests, with no more of the rest of the program than they need.</summary>
internal static class Imports
{
    public static ImportSource Source { get; } = new("strips", new string('a', 64));

    public static IncomingStrip Whole(
        StripRecord strip, int line = 1) => new(new FilePlace("strips.jsonl", line), $"{strip.Id} {strip.Revision.Number}", _ => strip)
    {
        IsWhole = true,
        HasRevision = true,
        NewLot = s => new(s.LotCode, s.JudgedBy.Key, s.Layout),
    };

    /// <summary>A strip of a table, judged by nothing.</summary>
    public static IncomingStrip Table(ImportedStrip given, StripLayout layout, Domain.Processes.ProcessSheet sheet) => new(
        given.Spot,
        StripIdentity.Of(given),
        before => Record(given, before, layout, sheet))
    {
        Name = given.Name,
        MayRepeat = given.Name is null,
        HasRevision = given.Revision is not null,
        NewLot = s => new(s.LotCode, s.JudgedBy.Key, s.Layout),
    };

    private static StripRecord Record(ImportedStrip given, int before, StripLayout layout, Domain.Processes.ProcessSheet sheet)
    {
        ImmutableArray<PatchReads> patches =
            [.. layout.Patches.Select(p => given.Patches.FirstOrDefault(g => g.Word == p.Key) is { } patch
                ? new PatchReads(p, patch.Reads, patch.LeftOut)
                : PatchReads.None(p))];
        return new StripRecord(
            given.Id ?? StripIdentity.ToId(given, before),
            given.Lot,
            layout,
            sheet,
            patches,
            PatchMeans.Of(patches),
            [],
            new Provenance(given.At, given.By ?? "Ines", given.Instrument),
            new Revision(given.Revision ?? 1, "Ines", given.At, "imported"))
        {
            Tags = given.Tags,
        };
    }

    /// <summary>Imports and tells what became of each.</summary>
    public static async Task<ImmutableArray<ImportedEntry>> ImportAsync(
        this AcquireStore store, bool keep, params IEnumerable<IncomingStrip> strips)
    {
        var entries = ImmutableArray.CreateBuilder<ImportedEntry>();
        Assert.Equal(keep, await store.ImportStripsAsync(
            strips.ToAsyncEnumerable(), Source, entries.Add, () => keep, TestContext.Current.CancellationToken));
        return entries.ToImmutable();
    }

    public static async Task<byte[]> ExportAsync(
        this AcquireStore store, Func<IAsyncEnumerable<StripRecord>, Stream, CancellationToken, Task> write)
    {
        using var stream = new MemoryStream();
        var token = TestContext.Current.CancellationToken;
        await write(store.ListStripsAsync(StripFilter.All, token), stream, token);
        return stream.ToArray();
    }

    public static Task JsonLinesAsync(IAsyncEnumerable<StripRecord> strips, Stream stream, CancellationToken cancellationToken) =>
        StripJsonLines.WriteAsync(strips.Select(s => new StripExport(s, [])), stream, cancellationToken);
}

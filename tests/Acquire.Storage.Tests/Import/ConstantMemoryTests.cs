using Acquire.Formats.Strips;
using Acquire.Formats.Workbooks;
using Acquire.Storage.Import;
using Acquire.Storage.Records;

namespace Acquire.Storage.Tests.Import;

/// <summary>
/// Ten times the reads need no more memory, in and out. What lives on the heap is compared, not time; so nothing else may run meanwhile.
/// </summary>
[Collection(Alone)]
[Trait("speed", "slow")]
public sealed class ConstantMemoryTests : StoreFixture
{
    private const string Alone = "memory";

    private const int ReadsPerStrip = 15;

    private const long Allowed = 1_500_000;

    [Fact]
    public async Task Import_and_export_of_ten_times_the_reads_hold_no_more()
    {
        var small = await ImportAsync(100);
        var large = await ImportAsync(1000);
        Assert.True(large - small < Allowed, $"An import of 15,000 reads holds {large - small} bytes more than one of 1,500.");

        foreach (var write in new Func<IAsyncEnumerable<Domain.Records.StripRecord>, Stream, CancellationToken, Task>[]
            { StripReadsCsv.WriteAsync, StripCgats.WriteAsync, Imports.JsonLinesAsync, (s, to, t) =>
                StripWorkbook.WriteAsync(s.Select(r => new StripExport(r, [])), TimeZoneInfo.Utc, to, t) })
        {
            var (few, all) = (await ExportAsync(write, 100), await ExportAsync(write, 1000));
            Assert.True(all - few < Allowed, $"An export of 15,000 reads holds {all - few} bytes more than one of 1,500.");
        }
    }

    private async Task<long> ImportAsync(int strips)
    {
        var (seen, held) = (0, 0L);
        Assert.True(await Store.ImportStripsAsync(
            Strips(strips).ToAsyncEnumerable(),
            Imports.Source,
            _ => held = ++seen == strips ? GC.GetTotalMemory(forceFullCollection: true) : held,
            () => true,
            Token));
        Assert.Equal(strips, seen);
        return held;
    }

    private async Task<long> ExportAsync(
        Func<IAsyncEnumerable<Domain.Records.StripRecord>, Stream, CancellationToken, Task> write, int strips)
    {
        var held = 0L;
        var seen = 0;
        await write(
            Store.ListStripsAsync(StripFilter.All with { Last = strips }, Token).Select(s =>
            {
                held = ++seen % strips == 0 ? GC.GetTotalMemory(forceFullCollection: true) : held;
                return s;
            }),
            new Sink(Stream.Null),
            Token);
        return held;
    }

    private static IEnumerable<IncomingStrip> Strips(int count) => Enumerable.Range(0, count).Select(n => Imports.Table(
        new ImportedStrip
        {
            Spot = new FilePlace("strips.csv", n + 2),
            Name = $"{count}-{n}",
            At = Some.Evening.AddHours(n),
            Lot = Some.Lot.Code,
            Patches = [.. Some.Layout.Patches.Select(p =>
                new ImportedPatch(p.Key, n + 2, [.. Enumerable.Repeat(0, ReadsPerStrip / 3).Select(_ => Some.Read(0.26m, 0.62m, 0.80m))]))],
        },
        Some.Layout,
        Some.Sheet));

    /// <summary>A stream that can only be written, as to a pipe.</summary>
    private sealed class Sink(Stream to) : Stream
    {
        public override bool CanRead => false;

        public override bool CanSeek => false;

        public override bool CanWrite => true;

        public override long Length => throw new NotSupportedException();

        public override long Position { get => throw new NotSupportedException(); set => throw new NotSupportedException(); }

        public override void Flush() => to.Flush();

        public override int Read(byte[] buffer, int offset, int count) => throw new NotSupportedException();

        public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

        public override void SetLength(long value) => throw new NotSupportedException();

        public override void Write(byte[] buffer, int offset, int count) => to.Write(buffer, offset, count);
    }

    /// <summary>Runs after the tests that run side by side.</summary>
    [CollectionDefinition(Alone, DisableParallelization = true)]
    public sealed class AloneDefinition;
}

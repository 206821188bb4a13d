using Acquire.Analysis.Gauge;
using Acquire.Bench.Trust;
using Acquire.Formats.Csv;

namespace Acquire.Bench.Tests.Trust;

/// <summary>Readings of a file become a repeatability test of the instrument they are of.</summary>
public sealed class RepeatabilityEntryTests : IAsyncLifetime
{
    private static readonly InstrumentInUse Instrument = new("labelled-line", "00", "file:reads.csv");

    private readonly string _folder = Directory.CreateTempSubdirectory("acquire-bench-").FullName;
    private AcquireStore _store = null!;

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public async ValueTask InitializeAsync() => _store = await EmptyStore.OpenAsync(_folder, TimeProvider.System, Token);

    public async ValueTask DisposeAsync()
    {
        await _store.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }

    [Fact]
    public async Task Test_of_a_file_is_kept_compared_and_in_force()
    {
        var first = await EnterAsync(Visual("ld", 0.70m, 0.71m, 0.70m, 0.72m, 0.70m, 0.71m));
        var second = await EnterAsync(Visual("LD", 0.80m, 0.84m, 0.78m, 0.86m, 0.79m, 0.83m));

        Assert.Null(first.Comparison);
        Assert.Equal((true, false), (first.Test.Passed, second.Test.Passed));
        Assert.True(Assert.Single(second.Comparison!.Channels).IsSignificant);
        Assert.Equal(0.11, Math.Round(Assert.Single(second.Comparison.Drifts).Drift, 2));
        var book = new RepeatabilityBook(_store);
        Assert.Equal([first.Test.Id, second.Test.Id], (await book.ListAsync(Token)).Select(t => t.Test.Id));
        var inForce = await book.InForceAsync("labelled-line", Token);
        Assert.Equal(second.Test.Id, inForce!.TestId);
        Assert.Equal([Channel.Visual], inForce.Channels.Select(c => c.Channel));
        Assert.Equal(second.Report[Channel.Visual]!.Pooled.S, inForce.Channels[0].StandardDeviation, 1e-12);
        Assert.Null(await book.InForceAsync("rgb-columns", Token));
        Assert.Equal(("file:reads.csv", null), (second.Test.Provenance.Instrument!.Port, second.Test.SessionId));
    }

    [Fact]
    public async Task Placements_of_a_file_are_kept_with_their_components()
    {
        ImportedRead[] reads = [
            Visual("ld", 1, 0.45m, "a"), Visual("ld", 1, 0.47m, "b"), Visual("ld", 2, 0.45m, "a"), Visual("ld", 2, 0.48m, "B")];

        var kept = await EnterAsync(reads);

        Assert.Equal(2, kept.Test.ReadsPerPlacement);
        var asRead = RepeatabilityStudy.Of(TestReads.Of(reads))[Channel.Visual]!.Pooled;
        Assert.Equal(
            (asRead.SWithin, asRead.SPlacement),
            (kept.Report[Channel.Visual]!.Pooled.SWithin, kept.Report[Channel.Visual]!.Pooled.SPlacement));
        Assert.True(asRead.SPlacement > 0.01);
    }

    [Fact]
    public async Task Placements_of_unequal_numbers_are_refused_by_line()
    {
        var fault = await Assert.ThrowsAsync<BenchException>(() => EnterAsync(
            [Visual("ld", 1, 0.45m, "a"), Visual("ld", 2, 0.45m, "a"), Visual("ld", 1, 0.48m, "b")]));

        Assert.Contains(
            "reads.csv, line 1: placement b of patch ld has another number of reads (1) than the first (2)",
            fault.Message,
            StringComparison.Ordinal);
        Assert.Empty(await _store.ListRepeatabilityTestsAsync(Token));
    }

    [Fact]
    public async Task Numbers_that_are_no_densities_and_too_few_reads_are_refused_and_nothing_is_kept()
    {
        Assert.Contains(
            "expected a density",
            (await Assert.ThrowsAsync<ImportException>(() => EnterAsync(Visual("ld", 41.03m, 41.2m)))).Message,
            StringComparison.Ordinal);
        await Assert.ThrowsAsync<GaugeException>(() => EnterAsync(Visual("ld", 0.7m)));
        await Assert.ThrowsAsync<GaugeException>(() => EnterAsync([]));
        Assert.Empty(await _store.ListRepeatabilityTestsAsync(Token));
    }

    private static ImportedRead[] Visual(string patch, params decimal[] values) =>
        [.. values.Select((v, i) => Visual(patch, i + 1, v, null))];

    private static ImportedRead Visual(string patch, int read, decimal value, string? placement) => new(
        new FilePlace("reads.csv", read),
        patch, read, placement, ImmutableSortedDictionary<Channel, decimal>.Empty.Add(Channel.Visual, value));

    private Task<KeptTest> EnterAsync(ImportedRead[] reads) =>
        new RepeatabilityEntry(_store, TimeProvider.System).EnterAsync(reads, Instrument, 0.010, "staff", Token);
}

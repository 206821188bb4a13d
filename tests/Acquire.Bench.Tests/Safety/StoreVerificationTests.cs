using Acquire.Storage.Inspection;

namespace Acquire.Bench.Tests.Safety;

public sealed class StoreVerificationTests : IAsyncLifetime
{
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
    public async Task Means_that_follow_from_the_reads_are_sound_and_others_are_told()
    {
        var lot = Support.Strips.Lot();
        var strip = Support.Strips.Strip(lot) with { ReferenceId = null };
        await _store.AddLotAsync(lot.Lot, Token);
        await _store.AddStripAsync(strip, Token);
        Assert.True((await VerifyAsync()).IsSound);

        await _store.AddStripAsync(With(strip, strip.Means.SetItem(3, Moved(strip.Means[3]))), Token);
        var found = Assert.Single((await VerifyAsync()).Findings);
        Assert.Equal(StoreFindingKind.NotProved, found.Kind);
        Assert.Contains("ld red", found.What, StringComparison.Ordinal);
        Assert.Contains($"{strip.Id}, revision 2", found.What, StringComparison.Ordinal);
        Assert.Contains("14 means, its reads make 15", RecordProof.Fault(With(strip, strip.Means.RemoveAt(0))), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Newest_sound_backup_is_not_the_newest_where_that_is_damaged()
    {
        Assert.Null(await StoreInspection.NewestSoundAsync(_folder, TimeProvider.System, Token));
        await _store.AddLotAsync(Support.Strips.Lot().Lot, Token);
        var (made, _) = await _store.BackUpAsync(Token);
        await File.WriteAllBytesAsync(
            Path.Combine(_folder, "backups", "acquire-20990101-000000.db"), (await File.ReadAllBytesAsync(made, Token))[..9000], Token);

        Assert.Equal(made, (await StoreInspection.NewestSoundAsync(_folder, TimeProvider.System, Token))!.Path);
    }

    private static PatchMean Moved(PatchMean mean) =>
        new(mean.PatchKey, mean.Channel, mean.Mean + 0.001, mean.Reads, mean.StandardDeviation, mean.Resolution);

    private static StripRecord With(StripRecord strip, ImmutableArray<PatchMean> means) => new(
        strip.Id, strip.LotCode, strip.Layout, strip.JudgedBy, strip.Patches, means, strip.Aims, strip.Provenance,
        new Revision(2, "staff", Some.Moment, "by hand"));

    private Task<StoreReport> VerifyAsync() => StoreInspection.InspectAsync(_store.FilePath, TimeProvider.System, Token);
}

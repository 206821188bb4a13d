using System.Diagnostics;
using Acquire.Analysis.Gauge;
using Acquire.Analysis.Judgement;
using Acquire.Bench.Strips;
using Acquire.Formats.ProcessSheets;

namespace Acquire.Bench.Tests.Strips;

public sealed class StripJudgingTests : IDisposable
{
    private static readonly ProcessSheet C41 = ShippedSheets.Get("c41");
    private static readonly InstrumentInUse Bench = new("labelled-line", new string('a', 64), "scripted");
    private readonly string _folder = Directory.CreateTempSubdirectory("acquire-judging-").FullName;
    private readonly FakeTimeProvider _time = new(Some.Moment);

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Repeats_of_other_strips_of_the_instrument_take_the_place_of_the_assumption()
    {
        await using var store = await StoreAsync();
        var once = Strip(1, 1, 0);
        var before = (await StripJudging.LoadAsync(store, Token, unkept: once)).Judge(once);
        await AddAsync(store, [Strip(2, 4, 0.001m), Strip(3, 4, 0.001m)]);
        var after = (await StripJudging.LoadAsync(store, Token, unkept: once)).Judge(once);

        Assert.Equal(Assumed.Repeatability | Assumed.Zero, Ld(before).RestsOnAssumption);
        Assert.Equal(Assumed.Zero, Ld(after).RestsOnAssumption);
        Assert.True(after.Results.Single(r => r is { Parameter.Key: "contrast", Channel: Channel.Red }).StandardUncertainty
            < before.Results.Single(r => r is { Parameter.Key: "contrast", Channel: Channel.Red }).StandardUncertainty / 4);
    }

    [Fact]
    public async Task Repeats_of_a_strip_that_is_not_kept_yet_count_once()
    {
        await using var store = await StoreAsync();
        var strip = Strip(1, 4, 0.001m);
        var before = (await StripJudging.LoadAsync(store, Token, unkept: strip)).GroundOf(strip).Instrument.OwnFreedom(Channel.Red);
        await AddAsync(store, [strip]);
        var after = (await StripJudging.LoadAsync(store, Token)).GroundOf(strip).Instrument.OwnFreedom(Channel.Red);

        Assert.Equal((15.0, 15.0), (before, after));
    }

    [Fact]
    public async Task Strip_of_the_sitting_in_which_the_reference_was_read_shares_its_zero()
    {
        await using var store = await StoreAsync();
        var judging = await StripJudging.LoadAsync(store, Token);

        Assert.Equal(0, Ld(judging.Judge(Strip(0, 1, 0))).ZeroUncertainty);
        Assert.Equal(0.0125 / Math.Sqrt(3), Ld(judging.Judge(Strip(1, 1, 0))).ZeroUncertainty!.Value, 1e-12);
    }

    [Fact]
    public async Task Days_of_the_thinnest_patch_tell_of_the_zero()
    {
        await using var store = await StoreAsync();
        await AddAsync(store, [.. Enumerable.Range(1, 30).Select(d => Strip(d, 2, 0.001m, zero: d % 2 == 0 ? 0.03m : 0))]);
        var strip = Strip(40, 1, 0);
        var zero = (await StripJudging.LoadAsync(store, Token)).GroundOf(strip).Setting;

        Assert.False(zero.IsAssumed);
        Assert.Equal(0.03 / Math.Sqrt(2), zero.StandardUncertainty, 1e-3);
    }

    /// <summary>By hand on one core two thousand strips take under a second; the bound allows a busy machine.</summary>
    [Fact]
    [Trait("speed", "slow")]
    public async Task Judging_thousands_of_strips_asks_the_store_once()
    {
        await using var store = await StoreAsync();
        await AddAsync(store, [.. Enumerable.Range(1, 2000).Select(d => Strip(d, 2, 0.001m))]);
        var watch = Stopwatch.StartNew();
        _ = await StripJudging.LoadAsync(store, Token);

        Assert.InRange(watch.Elapsed, TimeSpan.Zero, TimeSpan.FromSeconds(3));
    }

    private static ParameterResult Ld(StripJudgement judgement) =>
        judgement.Results.Single(r => r is { Parameter.Key: "ld", Channel: Channel.Red });

    private static readonly Guid Reference = Guid.CreateVersion7(Some.Moment);

    private async Task<AcquireStore> StoreAsync()
    {
        var store = await AcquireStore.OpenAsync(_folder, _time, Token);
        await store.AddLotAsync(new StripLot("2417", "c41", C41.Layout), Token);
        await store.AddReferenceAsync(
            new LotReference(Reference, "2417", Patches(1, 0), new Provenance(Some.Moment, "staff", Bench),
                Revision.First("staff", Some.Moment, "read")), Token);
        return store;
    }

    private static async Task AddAsync(AcquireStore store, ImmutableArray<StripRecord> strips) =>
        _ = await store.InTransactionAsync(
            writing =>
            {
                foreach (var strip in strips)
                {
                    writing.AddStrip(strip);
                }

                return strips.Length;
            },
            Token);

    private static StripRecord Strip(int day, int reads, decimal apart, decimal zero = 0)
    {
        var at = Some.Moment.AddDays(day).AddMinutes(20);
        var patches = Patches(reads, apart, zero);
        return new StripRecord(
            Guid.CreateVersion7(at), "2417", C41.Layout, C41, patches, PatchMeans.Of(patches),
            Aims.Of(new StripLot("2417", "c41", C41.Layout), new LotReference(
                Reference,
                "2417", Patches(1, 0), new Provenance(Some.Moment, "staff", Bench), Revision.First("staff", Some.Moment, "read"))),
            new Provenance(at, "staff", Bench), Revision.First("staff", at, "read")) { ReferenceId = Reference };
    }

    private static ImmutableArray<PatchReads> Patches(int reads, decimal apart, decimal zero = 0) =>
    [
        .. C41.Layout.Patches.Select((p, i) => new PatchReads(p, [.. Enumerable.Range(0, reads).Select(n =>
        {
            var density = 0.300m + (0.5m * i) + zero + (apart * (n % 2));
            return new PatchRead(Reading.Entered(ChannelDensities.Rgb(density, density, density), Some.Moment));
        })])),
    ];
}

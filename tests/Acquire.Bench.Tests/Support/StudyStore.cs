using Acquire.Analysis.Causes;
using Acquire.Formats.ProcessSheets;

namespace Acquire.Bench.Tests.Support;

/// <summary>A store in a folder of its own, with the strips that a study is asked of.</summary>
internal sealed class StudyStore : IDisposable
{
    public static readonly ProcessSheet C41 = ShippedSheets.Get("c41");
    public static readonly ProcessSheet House = new("house", "House process", C41.Status, C41.Layout, C41.Parameters);

    private readonly string _folder = Directory.CreateTempSubdirectory("acquire-study-").FullName;

    /// <summary>Long after all strips.</summary>
    public FakeTimeProvider Time { get; } = new(Some.Moment.AddDays(100));

    public static CancellationToken Token => TestContext.Current.CancellationToken;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    public string File(string name) => Path.Combine(_folder, name);

    /// <summary>A store of its own each time, with the lots that the strips name.</summary>
    public async Task<AcquireStore> OpenAsync(IEnumerable<StripRecord> strips, StripLot? lot = null)
    {
        var all = strips.ToList();
        var store = await EmptyStore.OpenAsync(File(Guid.NewGuid().ToString("N")), Time, Token);
        foreach (var each in lot is null
            ? all.DistinctBy(s => s.LotCode).Select(s => new StripLot(s.LotCode, s.JudgedBy.Key, s.Layout))
            : [lot])
        {
            await store.AddLotAsync(each, Token);
        }

        foreach (var strip in all)
        {
            await store.AddStripAsync(strip, Token);
        }

        return store;
    }

    public static StripTags Tank(string bottle) => new() { Line = "dip tank", Bottle = bottle };

    /// <summary>A strip whose HD is moved, or that has a fault, about aims of 1.00.</summary>
    public static StripRecord Strip(double day, double hd, string? fault = null, ProcessSheet? sheet = null)
    {
        var (at, of) = (Some.Moment.AddDays(day), sheet ?? C41);
        var signature = FaultSignatures.All.SingleOrDefault(s => s.Key == fault);
        decimal Shown(string key, Channel channel) =>
            Math.Round((decimal)(1 + (key == "hd" ? hd : 0) + (signature?.Size(key, channel) ?? 0)), 3) + 0.000m;
        ImmutableArray<PatchReads> patches =
        [
            .. of.Layout.Patches.Select(p => new PatchReads(
                p, [new PatchRead(Reading.Entered(
                    ChannelDensities.Rgb(Shown(p.Key, Channel.Red), Shown(p.Key, Channel.Green), Shown(p.Key, Channel.Blue)), at))])),
        ];
        return new StripRecord(
            Guid.CreateVersion7(at),
            of == C41 ? "2417" : "2418",
            of.Layout,
            of,
            patches,
            PatchMeans.Of(patches),
            [.. from p in of.Layout.Patches from c in Channels.Colours select new Aim(p.Key, c, 1, 0, 0.002)],
            new Provenance(at, "darkroom staff", null),
            Revision.First("darkroom staff", at, "read"))
        {
            Tags = Tank("D7"),
        };
    }
}

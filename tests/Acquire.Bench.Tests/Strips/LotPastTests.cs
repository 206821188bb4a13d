using Acquire.Bench.Lots;
using Acquire.Bench.Processes;
using Acquire.Bench.Trust;
using Acquire.Formats.ProcessSheets;

namespace Acquire.Bench.Tests.Strips;

/// <summary>What the aims of a lot may be wrong by, as it is kept with every strip.</summary>
public sealed class LotPastTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("acquire-lot-past-").FullName;

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public async Task Aims_rest_on_the_repeatability_that_the_user_settled()
    {
        await using var store = await EmptyStore.OpenAsync(_folder, TimeProvider.System, Token);
        var lots = new LotBook(store, new ProcessLibrary(Path.Combine(_folder, "processes")), TimeProvider.System);
        var layout = ShippedSheets.Get("c41").Layout;
        await store.AddLotAsync(new StripLot("4410", "c41", layout), Token);
        await lots.EnterReferenceAsync(
            "4410", [.. layout.Patches.Select(p => new EnteredDensities(p.Key, ChannelDensities.Rgb(0.00m, 0.00m, 0.00m)))], "staff",
            "typed", Token);
        var usual = await UncertaintyAsync();
        await new Settings(Assumed: new AssumedSettings(Repeatability: 0.030)).SaveAsync(_folder, Token);

        // One read at density 0, of which nothing but the assumption is known: u is the assumption itself, as a display of hundredths
        // does not hide it.
        Assert.Equal(0.010, usual, 1e-9);
        Assert.Equal(0.030, await UncertaintyAsync(), 1e-9);

        async Task<double> UncertaintyAsync() => (await lots.GetAsync("4410", Token)).InForce.Aims[0].StandardUncertainty;
    }
}

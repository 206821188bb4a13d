using Acquire.Bench.Trust;

namespace Acquire.Bench.Tests.Trust;

public sealed class CheckGateTests : IAsyncLifetime
{
    private readonly string _folder = Directory.CreateTempSubdirectory("acquire-bench-").FullName;
    private readonly FakeTimeProvider _time = new(Some.Moment);
    private AcquireStore _store = null!;

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    private static Plaque Plaque { get; } = new("bench", [Patch("low", 0m), Patch("high", 3m)], 0.02, 30);

    public async ValueTask InitializeAsync() => _store = await EmptyStore.OpenAsync(_folder, _time, Token);

    public async ValueTask DisposeAsync()
    {
        await _store.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }

    [Fact]
    public async Task Without_plaque_and_setting_nobody_is_bothered()
    {
        Assert.Equal(new CheckPass(null), await PassAsync(null));
        await _store.AddPlaqueAsync(Plaque, Token);
        var pass = await PassAsync(null);
        Assert.Equal(new CheckPass(null, null, pass.Warning), pass);
        Assert.Contains("no calibration check", pass.Warning, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Mark_puts_the_reason_into_the_record_and_warn_does_not()
    {
        Assert.Null((await PassAsync(CheckRequirement.Warn)).Lacking);
        Assert.Contains("no calibration check", (await PassAsync(CheckRequirement.Mark)).Lacking, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Block_lets_strips_pass_only_while_a_check_is_in_force()
    {
        await Assert.ThrowsAsync<BenchException>(() => PassAsync(CheckRequirement.Block));
        await _store.AddPlaqueAsync(Plaque, Token);
        var check = await AddCheckAsync(passed: true);
        Assert.Equal(new CheckPass(check), await PassAsync(CheckRequirement.Block));

        _time.Advance(TimeSpan.FromDays(30));
        Assert.Contains(
            "was due",
            (await Assert.ThrowsAsync<BenchException>(() => PassAsync(CheckRequirement.Block))).Message,
            StringComparison.Ordinal);

        await AddCheckAsync(passed: true);
        _time.Advance(TimeSpan.FromDays(1));
        await AddCheckAsync(passed: false);
        Assert.Contains(
            "failed",
            (await Assert.ThrowsAsync<BenchException>(() => PassAsync(CheckRequirement.Block))).Message,
            StringComparison.Ordinal);
    }

    private static PlaquePatch Patch(string key, decimal density) =>
        new(new Patch(key, key), ChannelDensities.Rgb(density, density, density), 0);

    private Task<CheckPass> PassAsync(CheckRequirement? required) =>
        new CheckGate(_store, new CheckBook(_store, _time)).PassAsync(required, "labelled-line", Token);

    private async Task<Guid> AddCheckAsync(bool passed)
    {
        var now = _time.GetUtcNow();
        var patches = Plaque.Layout.Patches.Select(p => new PatchReads(p, [new PatchRead(Some.Reading())]));
        var check = new CalibrationCheck(Guid.CreateVersion7(now), Plaque, [.. patches], passed, new(now, "staff", null));
        await _store.AddCheckAsync(check, Token);
        return check.Id;
    }
}

using System.Text;
using Acquire.Bench.Lots;
using Acquire.Bench.Processes;
using Acquire.Bench.Readings;
using Acquire.Bench.Sessions;
using Acquire.Bench.Strips;
using Acquire.Formats.ProcessSheets;
using Acquire.Formats.Strips;
using Channel = Acquire.Domain.Densitometry.Channel;

namespace Acquire.Bench.Tests.Strips;

/// <summary>
/// Every shipped process and layout, read from an instrument that sends visual, red, green and blue, kept, judged and exported.
/// </summary>
public sealed class OtherProcessesTests : IAsyncLifetime
{
    private readonly string _folder = Directory.CreateTempSubdirectory("acquire-processes-").FullName;
    private readonly ScriptedLink _link = new();
    private AcquireStore _store = null!;
    private ReadingDesk _desk = null!;

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public static TheoryData<string, string> Layouts => [.. ShippedSheets.All.SelectMany(s => s.Layouts.Select(l => (s.Key, l.Key)))];

    public async ValueTask InitializeAsync()
    {
        _store = await EmptyStore.OpenAsync(_folder, TimeProvider.System, Token);
        var lots = new LotBook(_store, new ProcessLibrary(Path.Combine(_folder, "processes")), TimeProvider.System);
        _desk = Desk.At(_store, lots, _link);
    }

    public async ValueTask DisposeAsync()
    {
        await _store.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }

    [Theory]
    [Trait("speed", "slow")]
    [MemberData(nameof(Layouts))]
    public async Task Strip_of_any_process_and_layout_is_read_kept_judged_and_exported(string process, string layoutKey)
    {
        var sheet = ShippedSheets.Get(process);
        var layout = sheet.GetLayout(layoutKey);
        var patches = layout.Patches.Length;

        var result = await ReadAsync(sheet, layout);

        Assert.Equal(patches, result.Kept!.Record.Patches.Count(p => p.Accepted.Any()));
        var stored = await _store.FindStripAsync(result.Kept.Record.Id.ToString(), Token);
        Assert.Equal(layout.Patches.Select(p => p.LogH), stored!.JudgedBy.LayoutOf(stored.Layout)!.Patches.Select(p => p.LogH));
        var judged = result.Kept!.Judgement.Results.Where(r => r.OnStrip).ToList();
        Assert.NotEmpty(judged);
        Assert.All(judged, r => Assert.Equal(0, r.Deviation!.Value, 1e-9));
        Assert.All(
            judged, r => Assert.True(r.Zone is not null || r.WhyMissing!.StartsWith("No limits are set for", StringComparison.Ordinal)));
        Assert.Equal(process == "c41" ? Zone.Inside : null, result.Kept.Judgement.Overall);
        Assert.Equal(
            sheet.ParametersOn(layout).Select(p => p.Key), judged.Select(r => r.Parameter.Key).Distinct());
        await AssertExportsAsync(stored, patches);
    }

    [Fact]
    [Trait("speed", "slow")]
    public async Task Strip_of_21_steps_gives_speed_point_and_gradient_in_every_colour()
    {
        var sheet = ShippedSheets.Get("ecn2");
        var result = await ReadAsync(sheet, sheet.GetLayout("steps21"));

        // Steps of 0.20 log H rise by 0.10 each, so the slope is 0.5 and 0.15 above the first step lies at 0.30.
        Assert.All(Channels.Colours, c =>
        {
            Assert.Equal(
                0.5, result.Kept!.Judgement.Results.Single(r => r.Parameter.Key == "gradient" && r.Channel == c).Value!.Value, 1e-9);
            Assert.Equal(
                0.3, result.Kept.Judgement.Results.Single(r => r.Parameter.Key == "speed-point" && r.Channel == c).Value!.Value, 1e-9);
        });
    }

    [Fact]
    public async Task Black_and_white_is_judged_by_the_visual_channel_alone()
    {
        var sheet = ShippedSheets.Get("bw");
        var result = await ReadAsync(sheet, sheet.Layouts[0]);

        Assert.All(result.Kept!.Judgement.Results, r => Assert.Equal(Channel.Visual, r.Channel));
    }

    [Fact]
    public async Task Reading_without_the_visual_channel_does_not_count_for_black_and_white()
    {
        var sheet = ShippedSheets.Get("bw");
        await _store.AddLotAsync(new StripLot("7", "bw", sheet.Layout), Token);
        var updates = new List<BenchUpdate>();
        _link.Send("R 0.26 G 0.62 B 0.80\r\n");
        _link.Break();
        var result = await _desk.ReadAsync(new ReferenceRequest("7", "first"), Desk.Terms(1), Desk.Seat(new Collecting(updates)), Token);

        Assert.Null(result.Kept);
        Assert.Empty(updates.OfType<BenchUpdate.Accepted>());
        Assert.Contains("visual", Assert.Single(updates.OfType<BenchUpdate.Attention>()).Message, StringComparison.Ordinal);
    }

    private async Task<ReadingResult<KeptStrip>> ReadAsync(ProcessSheet sheet, SheetLayout layout)
    {
        await _store.AddLotAsync(new StripLot("7", sheet.Key, layout.Strip), Token);
        var lines = string.Concat(layout.Patches.Select((_, i) => Line(i)));
        _link.Send(lines);
        var reference = await _desk.ReadAsync(new ReferenceRequest("7", "first"), Desk.Terms(1, "vrgb-columns"), Desk.Seat(), Token);
        Assert.Equal(SessionOutcome.Completed, reference.Session.Outcome.Outcome);
        _link.Send(lines);
        return await _desk.ReadAsync(
            new StripRequest { Lot = "7", Tags = new StripTags { Line = "dip tank" } }, Desk.Terms(1, "vrgb-columns"), Desk.Seat(), Token);
    }

    // Every channel rises by 0.10 from patch to patch.
    private static string Line(int patch) => string.Create(
        CultureInfo.InvariantCulture,
        $"+{0.2 + (patch / 10.0):0.000} +{0.3 + (patch / 10.0):0.000} +{0.5 + (patch / 10.0):0.000} +{0.7 + (patch / 10.0):0.000}\r\n");

    private static async Task AssertExportsAsync(Domain.Records.StripRecord strip, int patches)
    {
        var export = StripExports.Of(strip);
        using var csv = new MemoryStream();
        await StripCsv.WriteAsync(new[] { export }.ToAsyncEnumerable(), csv, Token);
        var rows = Encoding.UTF8.GetString(csv.ToArray()).Split("\r\n");
        Assert.Equal(patches, rows.Count(r => r.StartsWith("read,", StringComparison.Ordinal)));
        Assert.Equal(patches * 4, rows.Count(r => r.StartsWith("mean,", StringComparison.Ordinal)));
        Assert.Equal(export.Parameters.Length, rows.Count(r => r.StartsWith("parameter,", StringComparison.Ordinal)));
        Assert.All(export.Parameters, p => Assert.True(p.Zone is not null || p.Why is { Length: > 0 }));
        using var json = new MemoryStream();
        await StripJsonLines.WriteAsync(new[] { export }.ToAsyncEnumerable(), json, Token);
        var document = System.Text.Json.JsonDocument.Parse(json.ToArray()).RootElement;
        Assert.Equal(patches, document.GetProperty("patches").GetArrayLength());
        var sheet = document.GetProperty("judgedBy");
        var usual = sheet.TryGetProperty("layout", out var only) ? only : sheet.GetProperty("layouts")[0];
        Assert.Equal(strip.JudgedBy.Layout.Name, usual.GetProperty("name").GetString());
    }

    private sealed class Collecting(List<BenchUpdate> updates) : IBenchDisplay
    {
        public void Show(BenchUpdate update) => updates.Add(update);
    }
}

using Acquire.Bench.Lots;
using Acquire.Bench.Processes;
using Acquire.Bench.Readings;
using Acquire.Formats.ProcessSheets;
using Acquire.Instruments.Links;
using Acquire.Instruments.ProfileFiles;
using Channel = Acquire.Domain.Densitometry.Channel;

namespace Acquire.Bench.Tests.Strips;

/// <summary>Lots, references and strips through a real store; only the port is scripted.</summary>
public sealed class StripBenchTests : IAsyncLifetime
{
    private const string Strip =
        "R 0.26 G 0.62 B 0.80\r\nR 0.46 G 0.84 B 1.04\r\nR 1.26 G 1.74 B 2.00\r\nR 2.12 G 2.58 B 2.92\r\nR 0.37 G 0.88 B 2.72\r\n";

    private readonly string _folder = Directory.CreateTempSubdirectory("acquire-bench-").FullName;
    private readonly ScriptedLink _link = new();
    private AcquireStore _store = null!;
    private ReadingDesk _desk = null!;
    private LotBook _lots = null!;

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public async ValueTask InitializeAsync()
    {
        _store = await EmptyStore.OpenAsync(_folder, TimeProvider.System, Token);
        _lots = new LotBook(_store, new ProcessLibrary(Path.Combine(_folder, "processes")), TimeProvider.System);
        _desk = Desk.At(_store, _lots, _link);
        var sheet = ShippedSheets.Get("c41");
        await _store.AddLotAsync(new StripLot("4410", "c41", sheet.Layout, [new CorrectionFactor("ld", Channel.Red, 0.02)]), Token);
    }

    public async ValueTask DisposeAsync()
    {
        await _store.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }

    [Fact]
    public async Task Strip_without_reference_is_refused()
    {
        var fault = await Assert.ThrowsAsync<BenchException>(() => ReadAsync());
        Assert.Contains("no reference yet", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Strip_of_an_unknown_lot_is_refused() =>
        await Assert.ThrowsAsync<BenchException>(() => ReadAsync("1"));

    [Fact]
    public async Task Reference_read_from_the_instrument_makes_the_aims()
    {
        _link.Send(Strip);
        var result = await _desk.ReadAsync(new ReferenceRequest("4410", "first reference"), Desk.Terms(1), Desk.Seat(), Token);
        Assert.Equal(SessionOutcome.Completed, result.Session.Outcome.Outcome);
        Assert.Equal(15, result.Kept!.Aims.Length);
        var ld = result.Kept!.Aims.Single(a => a is { PatchKey: "ld", Channel: Channel.Red });
        Assert.Equal(0.48, ld.Value, 1e-12);
        Assert.True(_link.IsDisposed);
    }

    [Fact]
    public async Task Strip_is_stored_with_all_it_was_judged_by()
    {
        await EnterAsync();
        _link.Send(Strip);
        var result = await ReadAsync();
        var stored = await _store.FindStripAsync(result.Kept!.Record.Id.ToString(), Token);
        Assert.NotNull(stored);
        Assert.Equal(15, stored.Aims.Length);
        Assert.Equal(15, stored.Means.Length);
        Assert.Equal(ShippedSheets.Get("c41").Parameters.Select(p => p.Limits), stored.JudgedBy.Parameters.Select(p => p.Limits));
        Assert.Equal("labelled-line", stored.Provenance.Instrument!.Profile);
        Assert.Equal(64, stored.Provenance.Instrument.ProfileHash.Length);
        Assert.Equal(("dip tank", "D3"), (stored.Tags.Line, stored.Tags.Bottle));
        Assert.Equal("R 0.46 G 0.84 B 1.04", stored.Patches[1].Reads[0].Reading.Lines[0].Text);
        Assert.Equal(Zone.Inside, result.Kept!.Judgement.Overall);
        Assert.Equal(5, (await _store.SessionLinesAsync(result.Session.Session.Id, Token)).Count);
    }

    [Fact]
    public async Task Strip_rests_on_the_repeatability_test_of_its_instrument()
    {
        await EnterAsync();
        var profile = new ProfileLibrary(null).Find("labelled-line");
        var patch = ShippedSheets.Get("c41").Layout.Get("ld");
        decimal[] reds = [0.45m, 0.46m, 0.48m, 0.46m, 0.47m];
        var test = new RepeatabilityTest(
            Guid.CreateVersion7(),
            [new PatchReads(patch, [.. reds.Select(r => new PatchRead(new Reading(
                ChannelDensities.Rgb(r, 0.84m, 1.04m), Some.Moment, [Some.Line($"R {r} G 0.84 B 1.04")])))])],
            1,
            0.010,
            passed: false,
            new Provenance(Some.Moment, "staff", new InstrumentInUse(profile.Name, profile.Hash, "scripted")));
        await _store.AddRepeatabilityTestAsync(test, Token);
        _link.Send(Strip);
        var result = await ReadAsync();

        // s of the five reds is 0.0114 with 4 degrees of freedom; the assumption counts for 0.6 of its 5 beside it.
        Assert.Equal(test.Id, result.Kept!.Record.Repeatability!.TestId);
        var ld = result.Kept!.Judgement.Results.Single(r => r is { Parameter.Key: "ld", Channel: Channel.Red });
        var scatter = ld.RestsOn.Single().Scatter;
        Assert.Equal(7, scatter.DegreesOfFreedom, 1e-9);
        Assert.Equal(Math.Sqrt(((4 * 0.00013) + (3 * 0.0001)) / 7), scatter.StandardDeviation, 2e-4);
        Assert.True(scatter.IsAssumed);
    }

    /// <summary>The scatter of the instrument that reads the strip says nothing of the one that read the reference.</summary>
    [Fact]
    public async Task Aims_rest_on_the_test_of_the_instrument_that_read_the_reference()
    {
        _link.Send(Strip);
        var reference = await _desk.ReadAsync(new ReferenceRequest("4410", "first reference"), Desk.Terms(1), Desk.Seat(), Token);
        var profile = new ProfileLibrary(null).Find("rgb-columns");
        decimal[] reds = [0.45m, 0.46m, 0.48m, 0.46m, 0.47m];
        await _store.AddRepeatabilityTestAsync(
            new RepeatabilityTest(
                Guid.CreateVersion7(),
                [new PatchReads(
                    new Patch("ld", "ld"),
                    [.. reds.Select(r => new PatchRead(Reading.Entered(ChannelDensities.Rgb(r, 0.84m, 1.04m), Some.Moment)))])],
                1,
                0.010,
                passed: false,
                new Provenance(Some.Moment, "staff", new InstrumentInUse(profile.Name, profile.Hash, "scripted"))),
            Token);
        _link.Send("0.26 0.62 0.80\r\n0.46 0.84 1.04\r\n1.26 1.74 2.00\r\n2.12 2.58 2.92\r\n0.37 0.88 2.72\r\n");
        var result = await _desk.ReadAsync(new StripRequest { Lot = "4410" }, Desk.Terms(1, "rgb-columns"), Desk.Seat(), Token);

        Assert.NotNull(result.Kept!.Record.Repeatability);
        Assert.Null(reference.Kept!.Repeatability);
        Assert.Equal(reference.Kept.Aims, result.Kept.Record.Aims);
    }

    [Fact]
    public async Task Broken_link_leaves_the_lines_and_no_strip()
    {
        await EnterAsync();
        _link.Send("R 0.26 G 0.62 B 0.80\r\nR 0.46 G");
        _link.Break();
        var result = await ReadAsync();
        Assert.Null(result.Kept);
        Assert.IsType<LinkException>(result.Session.Outcome.Fault);
        var lines = await _store.SessionLinesAsync(result.Session.Session.Id, Token);
        Assert.Equal("R 0.26 G 0.62 B 0.80", lines[0].Line.Text);
        Assert.Null(result.Session.Rescue);
    }

    [Fact]
    public async Task Newest_reference_is_in_force_and_old_strips_keep_their_aims()
    {
        await EnterAsync();
        _link.Send(Strip);
        var before = await ReadAsync();
        await EnterAsync("ld 0.50 0.90 1.10", "lamp replaced");
        var current = await _store.CurrentReferenceAsync("4410", Token);
        Assert.Equal("lamp replaced", current!.Revision.Reason);
        Assert.Equal(2, (await _store.ListReferencesAsync("4410", Token)).Count);
        var stored = await _store.FindStripAsync(before.Kept!.Record.Id.ToString(), Token);
        Assert.Equal(0.48, stored!.Aim("ld", Channel.Red)!.Value, 1e-12);
    }

    [Fact]
    public async Task Reference_that_lacks_a_patch_is_refused()
    {
        var fault = await Assert.ThrowsAsync<BenchException>(() =>
            _lots.EnterReferenceAsync("4410", [Entered("dmin 0.26 0.62 0.80")], "staff", "typed", Token));
        Assert.Contains("missing: ld, hd, dmax, yellow", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Reference_of_a_patch_the_strip_lacks_is_refused() =>
        await Assert.ThrowsAsync<ImpossibleValueException>(() =>
            _lots.EnterReferenceAsync("4410", [Entered("sky 0.26 0.62 0.80")], "staff", "typed", Token));

    private Task<ReadingResult<KeptStrip>> ReadAsync(string lot = "4410") => _desk.ReadAsync(
        new StripRequest { Lot = lot, Tags = new StripTags { Line = "dip tank", Bottle = "D3" } }, Desk.Terms(1), Desk.Seat(), Token);

    private async Task EnterAsync(
        string ld = "ld 0.46 0.84 1.04", string reason = "typed from the sheet") => await _lots.EnterReferenceAsync(
        "4410",
        [Entered("dmin 0.26 0.62 0.80"), Entered(
            ld), Entered("hd 1.26 1.74 2.00"), Entered("dmax 2.12 2.58 2.92"), Entered("yellow 0.37 0.88 2.72")],
        "staff",
        reason,
        Token);

    private static EnteredDensities Entered(string text)
    {
        var words = text.Split(' ');
        decimal Value(int i) => decimal.Parse(words[i], System.Globalization.CultureInfo.InvariantCulture);
        return new EnteredDensities(words[0], ChannelDensities.Rgb(Value(1), Value(2), Value(3)));
    }
}

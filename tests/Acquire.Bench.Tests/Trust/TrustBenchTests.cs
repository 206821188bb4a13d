using Acquire.Analysis.Gauge;
using Acquire.Bench.Lots;
using Acquire.Bench.Processes;
using Acquire.Bench.Readings;
using Acquire.Bench.Sessions;
using Acquire.Bench.Trust;
using Acquire.Instruments.ProfileFiles;
using Plaque = Acquire.Domain.Trust.Plaque;

namespace Acquire.Bench.Tests.Trust;

/// <summary>Calibration checks and repeatability tests through a real store; only the port is scripted.</summary>
public sealed class TrustBenchTests : IAsyncLifetime
{
    private const string Good =
        "R 0.05 G 0.06 B 0.07\r\nR 0.06 G 0.06 B 0.07\r\nR 1.02 G 1.05 B 1.10\r\nR 1.02 G 1.05 B 1.11\r\nR 2.95 G 3.01 B 3.05\r\nR 2.95 "
        + "G 3.00 B 3.05\r\n";

    private const string VisualProfile = """
        {
          "name": "visual",
          "title": "Black and white",
          "lines": [ { "template": "V {visual}", "means": "reading" } ],
          "samples": [ { "lines": ["V 0.70"], "gives": { "visual": 0.70 } } ]
        }
        """;

    private readonly string _folder = Directory.CreateTempSubdirectory("acquire-bench-").FullName;
    private readonly ScriptedLink _link = new();
    private AcquireStore _store = null!;
    private CheckBook _book = null!;

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public async ValueTask InitializeAsync()
    {
        _store = await EmptyStore.OpenAsync(_folder, TimeProvider.System, Token);
        _book = new CheckBook(_store, TimeProvider.System);
        await _store.AddPlaqueAsync(
            new Plaque(
                "bench",
                [Patch("low", 0.05m, 0.06m, 0.07m), Patch("mid", 1.02m, 1.05m, 1.10m), Patch("high", 2.95m, 3.01m, 3.05m)],
                0.02,
                30), Token);
    }

    public async ValueTask DisposeAsync()
    {
        await _store.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }

    [Fact]
    public async Task Check_that_passes_is_kept_with_its_lines_and_in_force()
    {
        Assert.Contains("no calibration check", (await _book.StandingAsync("labelled-line", Token)).Lacking, StringComparison.Ordinal);
        _link.Send(Good);
        var result = await CheckAsync(2);

        Assert.True(result.Kept!.Check.Passed);
        var stored = Assert.Single(await _store.ListChecksAsync(Token));
        Assert.Equal("R 0.05 G 0.06 B 0.07", Assert.Single(stored.Patches[0].Reads[0].Reading.Lines).Text);
        var session = Assert.Single(await _store.ListSessionsAsync(Token));
        Assert.Equal(
            (SessionKind.CalibrationCheck, null, "bench", 6),
            (session.Session.Kind, session.Session.LotCode, session.Session.PlaqueName, session.Lines));
        Assert.Equal(SessionOutcome.Completed, session.End!.Outcome);
        Assert.Equal(stored.Id, (await _book.StandingAsync("labelled-line", Token)).InForce!.Id);
        Assert.Null((await _book.StandingAsync("rgb-columns", Token)).InForce);
    }

    [Fact]
    public async Task Check_that_fails_is_kept_and_not_in_force()
    {
        _link.Send(Good.Replace("R 2.95", "R 3.09", StringComparison.Ordinal));
        var result = await CheckAsync(2);

        Assert.False(result.Kept!.Check.Passed);
        Assert.Equal(CheckVerdict.Fail, result.Kept.Report[Channel.Red]!.Verdict);
        Assert.Contains("failed", (await _book.StandingAsync("labelled-line", Token)).Lacking, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Plaque_read_from_the_wrong_end_is_refused_and_its_lines_stay()
    {
        _link.Send(string.Join("\r\n", Good.Split("\r\n", StringSplitOptions.RemoveEmptyEntries).Reverse()) + "\r\n");
        var fault = await Assert.ThrowsAsync<GaugeException>(() => CheckAsync(2));

        Assert.Contains("wrong end", fault.Message, StringComparison.Ordinal);
        Assert.Empty(await _store.ListChecksAsync(Token));
        var session = Assert.Single(await _store.ListSessionsAsync(Token));
        Assert.Equal((6, true), (session.Lines, session.End is not null));
    }

    [Fact]
    public async Task Unknown_plaque_is_refused_and_those_there_are_listed()
    {
        var fault = await Assert.ThrowsAsync<BenchException>(() => _book.GetPlaqueAsync("x", Token));
        Assert.Contains("bench", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Standing_of_an_overdue_check_says_when_it_was_due()
    {
        var plaque = new Plaque("p", [Patch("low", 0m, 0m, 0m), Patch("high", 3m, 3m, 3m)], 0.02, 30);
        var patches = plaque.Layout.Patches.Select(p => new PatchReads(p, [new PatchRead(Some.Reading())]));
        var check = new CalibrationCheck(Guid.NewGuid(), plaque, [.. patches], true, new(Some.Moment, "staff", null));

        Assert.Same(check, CheckStanding.Of(check, Some.Moment.AddDays(29), "x").InForce);
        Assert.Contains("due on 2026-12-25", CheckStanding.Of(check, Some.Moment.AddDays(30), "x").Lacking, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Repeatability_test_is_kept_and_compared_with_the_one_before()
    {
        _link.Send("R 0.45 G 0.86 B 1.04\r\nR 0.46 G 0.86 B 1.04\r\nR 0.45 G 0.87 B 1.05\r\nR 0.45 G 0.86 B 1.04\r\n");
        var first = await TestAsync(4, 1);
        Assert.True(first.Kept!.Test.Passed);
        Assert.Null(first.Kept.Comparison);

        _link.Send("R 0.45 G 0.86 B 1.04\r\nR 0.45 G 0.86 B 1.04\r\nR 0.75 G 0.86 B 1.04\r\nR 0.75 G 0.86 B 1.04\r\n");
        var second = await TestAsync(4, 2);

        Assert.False(second.Kept!.Test.Passed);
        Assert.True(second.Kept.Report[Channel.Red]!.Pooled.SPlacement > 0.1);
        Assert.True(second.Kept.Comparison!.Channels.Single(c => c.Channel == Channel.Red).IsSignificant);
        var stored = await new RepeatabilityBook(_store).ListAsync(Token);
        Assert.Equal([first.Kept.Test.Id, second.Kept.Test.Id], stored.Select(s => s.Test.Id));
        Assert.Equal(2, stored[1].Test.ReadsPerPlacement);
        Assert.Equal(second.Kept.Report[Channel.Red]!.Pooled.S, stored[1].Report[Channel.Red]!.Pooled.S);
        Assert.Equal(SessionKind.Repeatability, (await _store.ListSessionsAsync(Token))[0].Session.Kind);
    }

    /// <summary>The scatter of the last repeatability test stands in where a check reads each patch once: u² = s² + (U/2)².</summary>
    [Fact]
    [Trait("Source", "JCGM 100:2008 (GUM) 5.1.2: independent contributions add as squares")]
    public async Task Check_of_single_reads_takes_its_uncertainty_from_the_repeatability_test()
    {
        _link.Send("R 0.45 G 0.86 B 1.04\r\nR 0.47 G 0.86 B 1.04\r\nR 0.43 G 0.87 B 1.05\r\nR 0.45 G 0.86 B 1.04\r\n");
        var test = await TestAsync(4, 1);
        _link.Send("R 0.05 G 0.06 B 0.07\r\nR 1.02 G 1.05 B 1.10\r\nR 2.95 G 3.01 B 3.05\r\n");
        var check = await CheckAsync(1);

        var s = test.Kept!.Report[Channel.Red]!.Pooled.S;
        Assert.Equal(Math.Sqrt((s * s) + (0.005 * 0.005)), check.Kept!.Report[Channel.Red]!.Patches[1].StandardUncertainty, 1e-12);
    }

    /// <summary>A test made later changes nothing of what a check told when it was made.</summary>
    [Fact]
    public async Task Check_in_the_list_is_judged_as_it_was_when_it_was_made()
    {
        _link.Send("R 0.45 G 0.86 B 1.04\r\nR 0.46 G 0.86 B 1.04\r\nR 0.45 G 0.87 B 1.05\r\nR 0.45 G 0.86 B 1.04\r\n");
        _ = await TestAsync(4, 1);
        _link.Send("R 0.05 G 0.06 B 0.07\r\nR 1.02 G 1.05 B 1.10\r\nR 2.95 G 3.01 B 3.05\r\n");
        var first = (await CheckAsync(1)).Kept!;
        _link.Send("R 0.45 G 0.86 B 1.04\r\nR 0.75 G 0.86 B 1.04\r\nR 0.43 G 0.87 B 1.05\r\nR 0.45 G 0.86 B 1.04\r\n");
        _ = await TestAsync(4, 1);
        _link.Send("R 0.05 G 0.06 B 0.07\r\nR 1.02 G 1.05 B 1.10\r\nR 2.95 G 3.01 B 3.05\r\n");
        var second = (await CheckAsync(1)).Kept!;

        var listed = await _book.ListAsync(Token);
        Assert.Equal([first.Check.Id, second.Check.Id], listed.Select(c => c.Check.Id));
        Assert.Equal((CheckVerdict.Pass, CheckVerdict.Undecided), (first.Report.Verdict, second.Report.Verdict));
        foreach (var (made, shown) in new[] { first, second }.Zip(listed))
        {
            Assert.Equal((made.Check.Passed, made.Report.Verdict), (shown.Check.Passed, shown.Report.Verdict));
            Assert.Equal(Numbers(made), Numbers(shown));
            Assert.Equal(made.Report.Notes, shown.Report.Notes);
        }

        static IEnumerable<double> Numbers(JudgedCheck check) => check.Report.Channels.SelectMany(c =>
            c.Patches.SelectMany(p => new[] { p.StandardUncertainty, p.ProbabilityInside }).Append(c.Zero.High).Append(
                c.Slope!.Value.High));
    }

    [Fact]
    public async Task Repeatability_test_of_a_black_and_white_instrument_takes_visual_alone()
    {
        var profile = ProfileReader.Read(VisualProfile, "visual.json");
        var terms = Desk.Terms(3, profile);
        _link.Send("V 0.70\r\nV 0.71\r\nV 0.70\r\n");

        var result = await TestAsync(terms, 1);

        Assert.Equal([Channel.Visual], result.Kept!.Report.Channels.Select(c => c.Channel));
        Assert.Equal(
            [Channel.Visual], (await new RepeatabilityBook(_store).InForceAsync("visual", Token))!.Channels.Select(c => c.Channel));
    }

    [Fact]
    public async Task Repeatability_test_wants_every_channel_that_the_instrument_sends()
    {
        var profile = new ProfileLibrary(null).Find("vrgb-columns");
        var terms = Desk.Terms(2, profile);
        _link.Send(string.Concat(profile.Samples
            .Where(s => s.Densities is not null)
            .SelectMany(s => s.Lines)
            .Take(1)
            .SelectMany(l => new[] { l, l })
            .Select(l => l + "\r\n")));

        var result = await TestAsync(terms, 1);

        Assert.Equal(4, result.Kept!.Report.Channels.Length);
    }

    [Fact]
    public async Task Repeatability_test_of_one_read_or_of_uneven_placements_is_refused()
    {
        await Assert.ThrowsAsync<BenchException>(() => TestAsync(1, 1));
        await Assert.ThrowsAsync<ImpossibleValueException>(() => TestAsync(5, 2));
    }

    private static PlaquePatch Patch(string key, decimal red, decimal green, decimal blue) =>
        new(new Patch(key, key), ChannelDensities.Rgb(red, green, blue), 0.01);

    private Task<ReadingResult<JudgedCheck>> CheckAsync(int reads) =>
        Desk.At(_store, NoLots, _link).ReadAsync(new CheckRequest("BENCH"), Desk.Terms(reads), Desk.Seat(), Token);

    private Task<ReadingResult<KeptTest>> TestAsync(int reads, int still) => TestAsync(Desk.Terms(reads), still);

    private Task<ReadingResult<KeptTest>> TestAsync(ReadingTerms terms, int still) => Desk.At(_store, NoLots, _link).ReadAsync(
        new RepeatabilityRequest(new StripLayout("test", [new Patch("ld", "ld")]), still, 0.01), terms, Desk.Seat(), Token);

    private LotBook NoLots => new(_store, new ProcessLibrary(_folder), TimeProvider.System);
}

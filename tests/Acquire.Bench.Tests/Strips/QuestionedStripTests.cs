using Acquire.Bench.Lots;
using Acquire.Bench.Processes;
using Acquire.Bench.Sessions;
using Acquire.Bench.Readings;
using Acquire.Bench.Strips;
using Acquire.Formats.ProcessSheets;

namespace Acquire.Bench.Tests.Strips;

/// <summary>
/// What was asked about a strip and what was done is in its record; in a real store, also when the session was broken off.
/// </summary>
public sealed class QuestionedStripTests : IAsyncLifetime
{
    private const string FromTheWrongEnd =
        "R 0.37 G 0.88 B 2.72\r\nR 2.12 G 2.58 B 2.92\r\nR 1.26 G 1.74 B 2.00\r\nR 0.46 G 0.84 B 1.04\r\nR 0.26 G 0.62 B 0.80\r\n";
    private const string OfTheOtherLot =
        "R 0.32 G 0.68 B 0.86\r\nR 0.60 G 0.98 B 1.18\r\nR 1.44 G 1.92 B 2.18\r\nR 2.24 G 2.70 B 3.04\r\nR 0.47 G 0.98 B 2.82\r\n";

    private static readonly StripRequest Strip = new() { Lot = "4410" };

    private readonly string _folder = Directory.CreateTempSubdirectory("acquire-asked-").FullName;
    private readonly System.Threading.Channels.Channel<BenchCommand> _commands =
        System.Threading.Channels.Channel.CreateUnbounded<BenchCommand>();
    private readonly Display _display = new();
    private AcquireStore _store = null!;
    private LotBook _lots = null!;

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public async ValueTask InitializeAsync()
    {
        _store = await EmptyStore.OpenAsync(_folder, TimeProvider.System, Token);
        _lots = new LotBook(_store, new ProcessLibrary(Path.Combine(_folder, "processes")), TimeProvider.System);
        await AddLotAsync("4410", 0, 0, 0, 0, 0);
    }

    public async ValueTask DisposeAsync()
    {
        await _store.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }

    [Fact]
    public async Task Question_that_nobody_answered_stays_with_the_strip()
    {
        var result = await Bench(FromTheWrongEnd).ReadAsync(Strip, Desk.Terms(1), Seat(), Token);
        var stored = (await _store.FindStripAsync(result.Kept!.Record.Id.ToString(), Token))!;
        Assert.Equal(result.Kept.Record.Questions, stored.Questions);
        var asked = stored.Questions[^1];
        Assert.Equal(("wrong_end", QuestionAnswer.Unanswered), (asked.Kind, asked.Answer));
        Assert.Equal("give the reads to the patches in reverse order", asked.Remedy);
        Assert.Equal("R 0.37 G 0.88 B 2.72", stored.Patches[0].Reads[0].Reading.Lines[0].Text);
    }

    [Fact]
    public async Task Accepted_remedy_is_in_the_record_and_its_means_follow()
    {
        var reading = Bench(FromTheWrongEnd).ReadAsync(Strip, Desk.Terms(1), Seat(TimeSpan.FromHours(1)), Token);
        await _display.UntilAsync(u => u is BenchUpdate.Question { Next: null });
        Press(new BenchCommand.Yes());
        await _display.UntilAsync(u => u is BenchUpdate.AllRead);
        Press(new BenchCommand.Keep());
        var stored = (await _store.FindStripAsync((await reading).Kept!.Record.Id.ToString(), Token))!;
        Assert.Equal("R 0.26 G 0.62 B 0.80", stored.Patches[0].Reads[0].Reading.Lines[0].Text);
        Assert.Equal("read as Yellow, moved to D-min", stored.Patches[0].Reads[0].Note);
        Assert.Equal(0.26, stored.Mean("dmin", Channel.Red)!.Mean, 1e-12);
        Assert.Equal(QuestionAnswer.Accepted, stored.Questions[^1].Answer);
        Assert.Equal(stored.Questions, new StripAmendment("staff", "said so") { Tags = tags => tags with { Note = "from the wrong end" } }
            .Apply(stored, Some.Moment).Questions);
    }

    /// <summary>Broken off while the question is open: it is open again, and the answer needs nothing of what was in memory.</summary>
    [Fact]
    public async Task Question_that_was_open_when_the_session_broke_off_can_be_answered_when_it_goes_on()
    {
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(Token);
        var reading = Bench(FromTheWrongEnd).ReadAsync(Strip, Desk.Terms(1), Seat(TimeSpan.FromHours(1)), stop.Token);
        await _display.UntilAsync(u => u is BenchUpdate.Question { Next: null });
        await stop.CancelAsync();
        Assert.True((await reading).Session.GoesOn);

        _display.Forget();
        using var session = await new SessionBook(_store, TimeProvider.System).TakeUpAsync(null, null, "acquire resume", Token);
        Assert.NotNull(session.Progress.Questions.Open);
        var resumed = Bench("").ResumeAsync(session, Seat(TimeSpan.FromHours(1)), Token);
        await _display.UntilAsync(u => u is BenchUpdate.Question);
        Press(new BenchCommand.Yes());
        await _display.UntilAsync(u => u is BenchUpdate.AllRead);
        Press(new BenchCommand.Keep());
        var record = ((KeptStrip)(await resumed).Kept!).Record;
        Assert.Equal("R 0.26 G 0.62 B 0.80", record.Patches[0].Reads[0].Reading.Lines[0].Text);
        Assert.Equal(QuestionAnswer.Accepted, record.Questions[^1].Answer);
    }

    [Fact]
    public async Task Strip_of_another_lot_in_the_house_is_recognized()
    {
        await AddLotAsync("4411", 0.06m, 0.14m, 0.18m, 0.12m, 0.10m);
        var result = await Bench(OfTheOtherLot).ReadAsync(Strip, Desk.Terms(1), Seat(), Token);
        var asked = Assert.Single(result.Kept!.Record.Questions, q => q.Kind == "wrong_lot");
        Assert.Contains("fits the aims of lot 4411", asked.Question, StringComparison.Ordinal);
        Assert.Contains("--lot 4411", asked.Remedy, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_the_line_did_on_its_last_strips_is_no_question_any_more()
    {
        const string LowInTheDark =
            "R 0.26 G 0.62 B 0.80\r\nR 0.46 G 0.84 B 1.04\r\nR 1.26 G 1.74 B 2.00\r\nR 1.90 G 2.36 B 2.70\r\nR 0.37 G 0.88 B 2.72\r\n";
        var asked = new List<string?>();
        for (var i = 0; i < 4; i++)
        {
            var strip = (await Bench(LowInTheDark).ReadAsync(Strip, Desk.Terms(1), Seat(), Token)).Kept!.Record;
            asked.Add(strip.Questions.Select(q => q.Kind).LastOrDefault());
        }

        Assert.Equal(["patch_edge", "patch_edge", "patch_edge", null], asked);
    }

    [Fact]
    public async Task Lot_whose_reference_came_after_the_session_began_is_not_known_to_it()
    {
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(Token);
        var reading = Bench(OfTheOtherLot[..24]).ReadAsync(Strip, Desk.Terms(1), Seat(), stop.Token);
        await _display.UntilAsync(u => u is BenchUpdate.Accepted);
        await stop.CancelAsync();
        await reading;
        await AddLotAsync("4411", 0.06m, 0.14m, 0.18m, 0.12m, 0.10m);
        using var session = await new SessionBook(_store, TimeProvider.System).TakeUpAsync(null, null, "acquire resume", Token);
        var result = await Bench(OfTheOtherLot[22..]).ResumeAsync(session, Seat(), Token);
        Assert.DoesNotContain(((KeptStrip)result.Kept!).Record.Questions, q => q.Kind == "wrong_lot");
    }

    private async Task AddLotAsync(string code, params decimal[] above)
    {
        var layout = ShippedSheets.Get("c41").Layout;
        ChannelDensities[] aims =
        [
            ChannelDensities.Rgb(0.26m + above[0], 0.62m + above[0], 0.80m + above[0]),
            ChannelDensities.Rgb(0.46m + above[1], 0.84m + above[1], 1.04m + above[1]),
            ChannelDensities.Rgb(1.26m + above[2], 1.74m + above[2], 2.00m + above[2]),
            ChannelDensities.Rgb(2.12m + above[3], 2.58m + above[3], 2.92m + above[3]),
            ChannelDensities.Rgb(0.37m + above[4], 0.88m + above[4], 2.72m + above[4]),
        ];
        await _store.AddLotAsync(new StripLot(code, "c41", layout), Token);
        await _lots.EnterReferenceAsync(
            code, [.. layout.Patches.Zip(aims, (p, a) => new EnteredDensities(p.Key, a))], "staff", "typed from the sheet", Token);
    }

    private ReadingDesk Bench(string sends)
    {
        var link = new ScriptedLink();
        link.Send(sends);
        return Desk.At(_store, _lots, link);
    }

    private void Press(BenchCommand command) => Assert.True(_commands.Writer.TryWrite(command));

    private BenchSeat Seat(TimeSpan? keepAfter = null) => Desk.Seat(_display, _commands.Reader) with { KeepAfter = keepAfter };

    private sealed class Display : IBenchDisplay
    {
        private readonly List<BenchUpdate> _shown = [];

        public void Show(BenchUpdate update)
        {
            lock (_shown)
            {
                _shown.Add(update);
            }
        }

        public void Forget()
        {
            lock (_shown)
            {
                _shown.Clear();
            }
        }

        public async Task UntilAsync(Predicate<BenchUpdate> wanted)
        {
            while (!Has(wanted))
            {
                await Task.Delay(TimeSpan.FromMilliseconds(2), TimeProvider.System, Token);
            }
        }

        private bool Has(Predicate<BenchUpdate> wanted)
        {
            lock (_shown)
            {
                return _shown.Exists(wanted);
            }
        }
    }
}

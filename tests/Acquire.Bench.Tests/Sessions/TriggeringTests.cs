using System.Threading.Channels;
using Acquire.Bench.Lots;
using Acquire.Bench.Processes;
using Acquire.Bench.Readings;
using Acquire.Bench.Sessions;
using Acquire.Instruments.Links;
using Acquire.Instruments.Orders;
using Acquire.Instruments.ProfileFiles;
using Acquire.Instruments.Profiles;
using Channel = System.Threading.Channels.Channel;

namespace Acquire.Bench.Tests.Sessions;

/// <summary>The instrument is told to read in the middle of a guided reading.</summary>
public sealed class TriggeringTests : IAsyncDisposable
{
    private const string Reading = "READ\r\nR=0.26 G=0.62 B=0.80\r\n";

    private static readonly DeviceProfile Told = new ProfileLibrary(null).Find("told-to-read");

    private readonly FakeTimeProvider _time = new(Some.Moment);
    private readonly Channel<BenchCommand> _commands = Channel.CreateUnbounded<BenchCommand>();
    private readonly ScriptedLink _link = new();
    private readonly string _folder = Directory.CreateTempSubdirectory("acquire-triggering-").FullName;

    public async ValueTask DisposeAsync()
    {
        await _link.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Each_trigger_brings_one_read_and_the_journal_has_only_what_came()
    {
        var bench = new ScriptedBench(_time);
        _link.Takes = _ => _link.Send(Reading);
        var running = RunAsync(bench);
        for (var read = 1; read <= 4; read++)
        {
            Press();
            _ = await bench.ShownAsync<BenchUpdate.Accepted>();
        }

        var outcome = await running;
        Assert.Equal((SessionOutcome.Completed, 4), (outcome.Outcome, outcome.Strip.ReadsTaken));
        Assert.Equal("READ\rREAD\rREAD\rREAD\r", _link.Written);
        Assert.DoesNotContain(bench.Entries, e => e.Event == JournalEvent.Decided);

        // A rebuild sends nothing, waits for nothing and has the same strip.
        var again = SessionProgress.Rebuild(Some.Plan(), Told, bench.Entries);
        Assert.Equal(SessionText.Of(outcome.Strip, outcome.Lines), SessionText.Of(again.Strip, again.Lines));
    }

    [Fact]
    public async Task Reading_that_does_not_come_is_told_and_the_instruments_own_key_goes_on()
    {
        var bench = new ScriptedBench(_time, reads: 1);
        var running = RunAsync(bench);
        _ = await bench.ShownAsync<BenchUpdate.Prompt>();
        Press();
        await UntilSentAsync("READ\r");
        while (!bench.Shown.OfType<BenchUpdate.Done>().Any())
        {
            _time.Advance(TimeSpan.FromSeconds(1));
            await Task.Delay(TimeSpan.FromMilliseconds(1), TimeProvider.System, Token);
        }

        Assert.StartsWith(
            "No reading came within 8 s. See that the instrument is switched on",
            (await bench.ShownAsync<BenchUpdate.Done>()).Message, StringComparison.Ordinal);
        _link.Send(Reading + Reading);
        Assert.Equal(2, (await running).Strip.ReadsTaken);
    }

    [Fact]
    public async Task Trigger_while_one_is_under_way_is_refused_with_a_word_and_nothing_is_doubled()
    {
        var bench = new ScriptedBench(_time, reads: 1);
        var running = RunAsync(bench);
        _ = await bench.ShownAsync<BenchUpdate.Prompt>();
        Press();
        Press();
        Assert.Equal(
            "Nothing was sent: the instrument was told before, and its reading is still to come.",
            (await bench.ShownAsync<BenchUpdate.Done>()).Message);
        Assert.Equal("READ\r", _link.Written);
        _link.Send(Reading + Reading);
        Assert.Equal(SessionOutcome.Completed, (await running).Outcome);
    }

    [Fact]
    public async Task Trigger_when_all_is_read_sends_nothing()
    {
        var bench = new ScriptedBench(_time, keepAfter: TimeSpan.FromHours(1), reads: 1);
        var running = RunAsync(bench, TimeSpan.FromHours(1));
        _link.Send(Reading + Reading);
        _ = await bench.ShownAsync<BenchUpdate.AllRead>();
        Press();
        Assert.Equal("All patches are read, so nothing was sent.", (await bench.ShownAsync<BenchUpdate.Done>()).Message);
        Assert.Equal("", _link.Written);
        _ = _commands.Writer.TryWrite(new BenchCommand.Keep());
        Assert.Equal(SessionOutcome.Completed, (await running).Outcome);
    }

    [Fact]
    public async Task Instrument_that_cannot_be_told_is_sent_nothing()
    {
        var bench = new ScriptedBench(_time, reads: 1);
        var running = RunAsync(bench, profile: Told with { Commands = ProfileCommands.None });
        _ = await bench.ShownAsync<BenchUpdate.Prompt>();
        Press();
        Assert.Contains("has no trigger command", (await bench.ShownAsync<BenchUpdate.Done>()).Message, StringComparison.Ordinal);
        Assert.Equal("", _link.Written);
        _link.Send(Reading + Reading);
        Assert.Equal(2, (await running).Strip.ReadsTaken);
    }

    [Fact]
    public async Task Port_that_goes_while_the_trigger_is_sent_is_told_and_keeps_what_was_read()
    {
        var bench = new ScriptedBench(_time, reads: 1);
        var running = RunAsync(bench);
        _link.Send(Reading);
        _ = await bench.ShownAsync<BenchUpdate.Accepted>();
        _link.Takes = _ => throw new LinkException(LinkFault.Gone, "The scripted port went away.");
        Press();
        Assert.Equal(
            "The command could not be sent: The scripted port went away.", (await bench.ShownAsync<BenchUpdate.Done>()).Message);
        _link.Break();
        var outcome = await running;
        Assert.Equal((SessionOutcome.Failed, 1), (outcome.Outcome, outcome.Strip.ReadsTaken));
    }

    [Fact]
    public async Task Session_ends_at_once_though_a_reading_is_awaited()
    {
        var bench = new ScriptedBench(_time, reads: 1);
        var running = RunAsync(bench);
        _ = await bench.ShownAsync<BenchUpdate.Prompt>();
        Press();
        await UntilSentAsync("READ\r");
        _ = _commands.Writer.TryWrite(new BenchCommand.Cancel());

        // The clock of the session stands still: nothing of it may wait for the eight seconds of the trigger.
        Assert.Equal(SessionOutcome.Cancelled, (await running.WaitAsync(TimeSpan.FromSeconds(30), TimeProvider.System, Token)).Outcome);
    }

    [Fact]
    public async Task Desk_sets_the_instrument_up_and_says_how_it_is_told_to_read()
    {
        await using var store = await EmptyStore.OpenAsync(_folder, TimeProvider.System, Token);
        var lots = new LotBook(store, new ProcessLibrary(Path.Combine(_folder, "processes")), TimeProvider.System);
        var display = new Screen();
        var patches = new StripLayout("two patches", [new Patch("a", "A"), new Patch("b", "B")]);
        _link.Takes = text =>
        {
            if (text == "READ\r")
            {
                _link.Send(Reading);
            }
        };
        var reading = Desk.At(store, lots, _link).ReadAsync(
            new RepeatabilityRequest(patches, 1, 0.01), Desk.Terms(2, Told),
            Desk.Seat(display, _commands.Reader) with { KeepAfter = TimeSpan.FromMilliseconds(50) }, Token);
        Assert.Equal(
            "This instrument reads when it is told: press t, or its own key.", (await display.ShownAsync<BenchUpdate.Notice>()).Text);
        for (var read = 1; read <= 4; read++)
        {
            _ = await display.ShownAsync<BenchUpdate.Prompt>();
            Press();
        }

        Assert.NotNull((await reading).Kept);
        Assert.Equal("\rREAD\rREAD\rREAD\rREAD\r", _link.Written);
    }

    /// <summary>A display alone: the journal is the store here.</summary>
    private sealed class Screen : IBenchDisplay
    {
        private readonly Channel<BenchUpdate> _updates = Channel.CreateUnbounded<BenchUpdate>();

        public void Show(BenchUpdate update) => _ = _updates.Writer.TryWrite(update);

        public async Task<T> ShownAsync<T>()
            where T : BenchUpdate =>
            await _updates.Reader.ReadAllAsync(Token).OfType<T>().FirstAsync(Token);
    }

    private void Press() => Assert.True(_commands.Writer.TryWrite(new BenchCommand.Trigger()));

    private async Task UntilSentAsync(string text)
    {
        while (_link.Written != text)
        {
            await Task.Delay(TimeSpan.FromMilliseconds(1), TimeProvider.System, Token);
        }
    }

    private Task<GuidedOutcome> RunAsync(ScriptedBench bench, TimeSpan? keepAfter = null, DeviceProfile? profile = null)
    {
        var orders = new InstrumentOrders(profile ?? Told, _time);
        return new GuidedReading(new SessionProgress(Some.Plan(bench.Reads)), bench, bench, _time, keepAfter, null, null, orders).RunAsync(
            orders.ReceiveAllAsync(_link, Token), _commands.Reader, Token);
    }
}

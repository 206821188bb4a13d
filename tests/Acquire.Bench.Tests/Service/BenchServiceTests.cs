using Acquire.Bench.Instruments;
using Acquire.Bench.Lots;
using Acquire.Bench.Processes;
using Acquire.Bench.Readings;
using Acquire.Bench.Service;
using Acquire.Bench.Sessions;
using Acquire.Instruments.ProfileFiles;

namespace Acquire.Bench.Tests.Service;

/// <summary>Sessions in the service on a real store; only the port is scripted.</summary>
public sealed class BenchServiceTests : IAsyncLifetime
{
    private static readonly TimeSpan LooseFor = TimeSpan.FromMinutes(10);

    private readonly string _folder = Directory.CreateTempSubdirectory("acquire-service-").FullName;
    private readonly FakeTimeProvider _time = new(Some.Moment);
    private readonly ScriptedLink _link = new();
    private AcquireStore _store = null!;
    private BenchService _service = null!;

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    private InstrumentStation Station => _service.Station("bench");

    public async ValueTask InitializeAsync()
    {
        _store = await EmptyStore.OpenAsync(_folder, _time, Token);
        var instruments = new InstrumentBook(_store, new ProfileLibrary(), _time);
        _ = await instruments.AddAsync(
            "bench", new InstrumentDetails(Port: "scripted", Profile: "labelled-line"), "staff", null, Token);
        _service = new BenchService(
            _store,
            new LotBook(_store, new ProcessLibrary(Path.Combine(_folder, "processes")), _time),
            instruments,
            _link,
            _time,
            NullLoggerFactory.Instance,
            meters: null,
            new StationBoard(),
            LooseFor);
        await _service.StartAsync(Token);
    }

    public async ValueTask DisposeAsync()
    {
        await _service.DisposeAsync();
        await _store.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }

    [Fact]
    public async Task Loose_reading_older_than_allowed_is_refused_and_nothing_is_begun()
    {
        _link.Send("R 0.31 G 0.61 B 0.81\r\n");
        await UntilAsync(() => Station.Loose.Length == 1);
        _time.Advance(LooseFor - TimeSpan.FromSeconds(1));
        _link.Send("R 0.32 G 0.62 B 0.82\r\n");
        await UntilAsync(() => Station.Loose.Length == 2);
        _time.Advance(TimeSpan.FromSeconds(2));
        var (old, fresh) = (Station.Loose[0].Id, Station.Loose[1].Id);

        var refused = await Assert.ThrowsAsync<BenchException>(() => BeginAsync(old, fresh));
        Assert.Contains("older than 10 minutes", refused.Message, StringComparison.Ordinal);
        Assert.Empty(await _store.ListSessionsAsync(Token));
        Assert.All(Station.Loose, l => Assert.Null(l.TakenBy));

        var session = await BeginAsync(fresh);
        Assert.Equal(0.32m, Assert.Single(session.State.Strip.Patches[0].Reads).Reading.Densities.Red!.Value.Value);
        Assert.Equal(session.Session.Id, Station.Loose[1].TakenBy);
        refused = await Assert.ThrowsAsync<BenchException>(() => BeginAsync(fresh));
        Assert.Contains("already", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Command_counts_for_what_was_seen_or_not_at_all()
    {
        var session = await BeginAsync();
        var seen = session.State.Sequence;
        _link.Send("R 0.31 G 0.61 B 0.81\r\n");
        await UntilAsync(() => session.State.Strip.ReadsTaken == 1);

        var stale = await session.DoAsync(new BenchCommand.Undo(), seen, Token);
        Assert.False(stale.Done);
        Assert.Equal(1, stale.State.Strip.ReadsTaken);
        Assert.Contains(stale.Since, e => e.Shown.OfType<BenchUpdate.Accepted>().Any());

        var read = session.State.Sequence;
        var fates = await Task.WhenAll(Enumerable.Range(0, 8).Select(_ => session.DoAsync(new BenchCommand.Undo(), read, Token)));
        Assert.Single(fates, f => f.Done);
        Assert.Empty(session.State.Strip.Patches[0].Accepted);
        Assert.Single(await DecisionsAsync(session));
    }

    /// <summary>What does not change the strip (half a line, a word of the link) makes nobody's view stale.</summary>
    [Fact]
    public async Task Half_a_line_makes_no_command_stale()
    {
        var session = await BeginAsync();
        _link.Send("R 0.31 G 0.61 B 0.81\r\n");
        await UntilAsync(() => session.State.Strip.ReadsTaken == 1);
        var seen = session.State.Sequence;
        _link.Send("R 0.3");
        await UntilAsync(() => session.State.Sequence > seen);
        Assert.True((await session.DoAsync(new BenchCommand.Undo(), seen, Token)).Done);
    }

    [Fact]
    public async Task Command_to_a_session_that_is_over_is_refused()
    {
        var session = await BeginAsync();
        var ended = await session.DoAsync(new BenchCommand.Cancel(), null, Token);
        Assert.Equal((true, LivePhase.Cancelled, false), (ended.Done, ended.State.Phase, Station.State.ReadBy));
        var late = await session.DoAsync(new BenchCommand.Undo(), session.State.Sequence, Token);
        Assert.Equal((false, LivePhase.Cancelled), (late.Done, late.State.Phase));
    }

    private Task<LiveSession> BeginAsync(params LooseId[] loose) => _service.BeginAsync(
        new LiveTerms("bench", 3, "staff") { Loose = [.. loose], KeepAfter = TimeSpan.FromHours(1) },
        (desk, terms, seat, stop) => desk.ReadAsync(new RepeatabilityRequest(Some.Layout, 1, 0.01), terms, seat, stop),
        Token);

    private async Task<List<JournalEntry>> DecisionsAsync(LiveSession session) =>
        [.. (await _store.SessionEntriesAsync(session.Session.Id, Token)).Where(e => e.Event == JournalEvent.Decided)];

    private static async Task UntilAsync(Func<bool> condition)
    {
        while (!condition())
        {
            await Task.Delay(TimeSpan.FromMilliseconds(5), TimeProvider.System, Token);
        }
    }
}

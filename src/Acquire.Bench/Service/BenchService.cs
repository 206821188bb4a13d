using System.Collections.Concurrent;
using Acquire.Bench.Instruments;
using Acquire.Bench.Lots;
using Acquire.Bench.Readings;
using Acquire.Bench.Sessions;
using Acquire.Instruments.Links;
using Acquire.Instruments.Profiles;
using Microsoft.Extensions.Logging;

namespace Acquire.Bench.Service;

/// <summary>How a session in the service is to be read, whatever it is for.</summary>
/// <param name="Instrument">The instrument's name; null for the only one.</param>
/// <param name="ReadsPerPatch">How many reads each patch is to have.</param>
/// <param name="By">The person who reads.</param>
public sealed record LiveTerms(string? Instrument, int ReadsPerPatch, string By)
{
    /// <summary>
    /// How long a step may be taken back when all is read; null where nobody can, so that it is kept at once and no question holds it up.
    /// </summary>
    public TimeSpan? KeepAfter { get; init; }

    /// <summary>Loose readings that are to be its first, in the order in which they came.</summary>
    public ImmutableArray<LooseId> Loose { get; init; } = [];

    /// <summary>The command or client that begins it, for the note that tells others who reads the session.</summary>
    public string Program { get; init; } = "acquire serve";
}

/// <summary>
/// The instruments of the house with a station each, and the sessions that are read with them. A face asks it to begin or to go on with a
/// session; from then on the session needs no face.
/// </summary>
/// <param name="looseFor">How long a loose reading may be taken into a session.</param>
public sealed class BenchService(
    AcquireStore store,
    LotBook lots,
    InstrumentBook instruments,
    ILinkOpener links,
    TimeProvider time,
    ILoggerFactory logs,
    BenchMeters? meters,
    StationBoard board,
    TimeSpan looseFor) : IAsyncDisposable
{
    /// <summary>How many sessions that are over are still shown to watchers who come back.</summary>
    private const int MostOver = 100;

    /// <summary>By the real clock: a port that is dead does not care for the service's.</summary>
    private static readonly TimeSpan EndsWithin = TimeSpan.FromMilliseconds(700);

    private readonly ConcurrentDictionary<string, InstrumentStation> _stations = new(StringComparer.OrdinalIgnoreCase);
    private readonly ConcurrentDictionary<Guid, LiveSession> _sessions = new();
    private readonly ConcurrentQueue<Guid> _over = new();
    private readonly ConcurrentDictionary<(string Instrument, string Reason), bool> _told = new();
    private readonly CancellationTokenSource _stop = new();
    private readonly SemaphoreSlim _refreshing = new(1);
    private readonly ILogger _logger = logs.CreateLogger<BenchService>();
    private readonly ChangeSignal _changed = new();

    /// <summary>The stations, by name.</summary>
    public ImmutableArray<InstrumentStation> Stations => [.. _stations.Values.OrderBy(s => s.Setup.Name, StringComparer.OrdinalIgnoreCase)];

    /// <summary>The sessions that are read now and those that ended lately.</summary>
    public ImmutableArray<LiveSession> Sessions => [.. _sessions.Values.OrderBy(s => s.Session.Id)];

    /// <summary>Completes when a station or a session is there that was not, or is there no more.</summary>
    public Task Changed => _changed.Next;

    /// <summary>Stations for the instruments of the house, and the sessions that a service before led and left.</summary>
    public async Task StartAsync(CancellationToken cancellationToken)
    {
        await RefreshAsync(cancellationToken);
        foreach (var (id, keepAfter) in await store.ServiceSessionsAsync(cancellationToken))
        {
            try
            {
                _ = await ResumeAsync(id.ToString("N"), keepAfter, "acquire serve", cancellationToken);
                ServiceLog.Resumed(_logger, id);
            }
            catch (Exception fault) when (fault is BenchException or StoreException or ProfileException)
            {
                ServiceLog.NotResumed(_logger, id, fault.Message);
            }
        }
    }

    /// <summary>
    /// Looks which instruments there are now, for the books are also written by others. A station that a session has is exchanged when the
    /// session is over.
    /// </summary>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public async Task RefreshAsync(CancellationToken cancellationToken)
    {
        await _refreshing.WaitAsync(cancellationToken);
        try
        {
            var wanted = await SetupsAsync(cancellationToken);
            foreach (var station in _stations.Values.Where(s => !s.State.ReadBy && !IsAsWanted(s.Setup, wanted)))
            {
                if (_stations.TryRemove(station.Setup.Name, out _))
                {
                    await station.DisposeAsync();
                    _changed.Tell();
                }
            }

            foreach (var setup in wanted.Values.Where(s => !_stations.ContainsKey(s.Name)))
            {
                await BeginStationAsync(setup, cancellationToken);
            }
        }
        finally
        {
            _refreshing.Release();
        }
    }

    /// <summary>The station of an instrument.</summary>
    /// <exception cref="BenchException">There is none; the message says why.</exception>
    public InstrumentStation Station(string name) => _stations.TryGetValue(name.Trim(), out var station)
        ? station
        : throw new BenchException(_stations.IsEmpty
            ? "No instrument with a port is in the house yet. Add one: acquire instrument add NAME --port PORT --profile PROFILE"
            : $"The service reads no instrument '{name}'; it reads {Numbers.Names([.. Stations.Select(s => s.Setup.Name)])}.");

    /// <summary>A session that is read now or ended lately; null where it is neither.</summary>
    public LiveSession? Find(Guid id) => _sessions.GetValueOrDefault(id);

    /// <summary>Begins a session.</summary>
    /// <param name="read">Asks the desk for it.</param>
    /// <exception cref="BenchException">It cannot be read as asked.</exception>
    /// <exception cref="StoreException">It cannot be begun; nothing was read.</exception>
    public async Task<LiveSession> BeginAsync<TKept>(
        LiveTerms terms,
        Func<ReadingDesk, ReadingTerms, BenchSeat, CancellationToken, Task<ReadingResult<TKept>>> read,
        CancellationToken cancellationToken)
        where TKept : KeptReading
    {
        await RefreshAsync(cancellationToken);
        var station = terms.Instrument is { } name ? Station(name) : await OnlyAsync(cancellationToken);
        var loose = LooseOf(station, terms.Loose);
        var reading = new ReadingTerms(station.Setup, terms.ReadsPerPatch, terms.By) { Loose = loose };
        var session = new LiveSession(station.Setup.Name);
        await session.StartAsync(
            seat => read(Desk(), reading, seat, _stop.Token), terms.KeepAfter, terms.Program, Over);
        if (loose is not null)
        {
            station.Took(loose.Ids, session.Session.Id);
        }

        return Led(session);
    }

    /// <summary>
    /// Goes on with a session that was broken off, on the instrument it was read with; one that goes on here already is given.
    /// </summary>
    /// <param name="idOrPart">The session; null for the newest that was broken off.</param>
    /// <param name="keepAfter">How long a step may be taken back when all is read; null where nobody can.</param>
    /// <exception cref="BenchException">There is none, or it cannot be gone on with.</exception>
    /// <exception cref="StoreException">Another program reads it, or the store cannot be used.</exception>
    public async Task<LiveSession> ResumeAsync(
        string? idOrPart, TimeSpan? keepAfter, string program, CancellationToken cancellationToken)
    {
        var book = new SessionBook(store, time);
        if (idOrPart is { } given
            && _sessions.TryGetValue((await book.GetAsync(given, cancellationToken)).Session.Id, out var here) && !here.State.IsOver)
        {
            return here;
        }

        var open = await book.TakeUpAsync(idOrPart, port: null, program, cancellationToken);
        var session = new LiveSession(open.Instrument.Name);
        try
        {
            await store.InTransactionAsync(
                writing =>
                {
                    writing.LeadSession(open.Session.Id, keepAfter);
                    return true;
                },
                cancellationToken);
            var desk = Desk();
            await session.StartAsync(
                async seat =>
                {
                    using (open)
                    {
                        return await desk.ResumeAsync(open, seat, _stop.Token);
                    }
                },
                keepAfter,
                program,
                Over);
        }
        catch
        {
            open.Dispose();
            throw;
        }

        return Led(session);
    }

    /// <summary>
    /// Breaks off what is read, so that it can be gone on with, and closes the ports; a port that hangs is not waited for.
    /// </summary>
    public async ValueTask DisposeAsync()
    {
        await _stop.CancelAsync();
        await Task.WhenAll(_sessions.Values.Select(s => s.Ended)).WaitAsync(EndsWithin, TimeProvider.System)
            .ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
        await Task.WhenAll(_stations.Values.Select(s => s.DisposeAsync().AsTask())).WaitAsync(EndsWithin, TimeProvider.System)
            .ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
    }

    private ReadingDesk Desk() => new(store, lots, new StationLinks(this, new OwnLinks(links, time, _logger)), time, _logger);

    private LiveSession Led(LiveSession session)
    {
        _sessions[session.Session.Id] = session;
        _changed.Tell();
        return session;
    }

    private void Over(LiveSession session)
    {
        _over.Enqueue(session.Session.Id);
        while (_over.Count > MostOver && _over.TryDequeue(out var oldest))
        {
            _ = _sessions.TryRemove(oldest, out _);
        }

        _changed.Tell();
    }

    private async Task<InstrumentStation> OnlyAsync(CancellationToken cancellationToken) =>
        Station((await instruments.ChooseAsync(new InstrumentChoice(), cancellationToken)).Setup.Name);

    private LooseReadings? LooseOf(InstrumentStation station, ImmutableArray<LooseId> wanted)
    {
        if (wanted.IsDefaultOrEmpty)
        {
            return null;
        }

        var oldest = time.GetUtcNow() - looseFor;
        var found = station.Loose.Where(r => wanted.Contains(r.Id)).ToList();
        return found switch
        {
            _ when found.Count < wanted.Length => throw new BenchException(
                $"Not all of these loose readings are of {station.Setup.Name}. See what there is: acquire instrument show "
                + $"{station.Setup.Name}"),
            _ when found.Find(r => r.TakenBy is not null) is { } taken => throw new BenchException(
                $"The loose reading of {Numbers.Moment(taken.Reading.At, time)} is in session {StripId.ShortForm(taken.TakenBy!.Value)} "
                + $"already."),
            _ when found.Find(r => r.Reading.At < oldest) is { } old => throw new BenchException(
                $"The loose reading of {Numbers.Moment(old.Reading.At, time)} is older than {looseFor.TotalMinutes:0} minutes: read the "
                + $"patch again."),
            _ => LooseReadings.Of(found),
        };
    }

    private async Task BeginStationAsync(InstrumentSetup setup, CancellationToken cancellationToken)
    {
        var station = new InstrumentStation(setup, store, links, time, logs.CreateLogger<InstrumentStation>(), meters, board);
        station.Remember((await new LooseBook(store).SinceAsync(time.GetUtcNow() - looseFor, cancellationToken))
            .Where(r => Keys.Same(r.Instrument, setup.Name)));
        if (_stations.TryAdd(setup.Name, station))
        {
            station.Start();
            _changed.Tell();
        }
    }

    private async Task<Dictionary<string, InstrumentSetup>> SetupsAsync(CancellationToken cancellationToken)
    {
        var setups = new Dictionary<string, InstrumentSetup>(StringComparer.OrdinalIgnoreCase);
        foreach (var instrument in (await instruments.ListAsync(cancellationToken)).Where(i => i is { RetiredAt: null, Port: not null }))
        {
            try
            {
                setups[instrument.Name] = instruments.SetupOf(instrument);
            }
            catch (Exception fault) when (fault is BenchException or ProfileException or LinkException)
            {
                // One that cannot be read must not keep the others from it; it is told once, and not at every look.
                if (_told.TryAdd((instrument.Name, fault.Message), true))
                {
                    ServiceLog.NoStation(_logger, instrument.Name, fault.Message);
                }
            }
        }

        return setups;
    }

    private static bool IsAsWanted(InstrumentSetup now, Dictionary<string, InstrumentSetup> wanted) =>
        wanted.TryGetValue(now.Name, out var setup)
        && setup.Address == now.Address && setup.Settings == now.Settings && setup.Profile.Hash == now.Profile.Hash;

    /// <summary>The link of an instrument that has a station is lent by it; others are opened for the one session.</summary>
    private sealed class StationLinks(BenchService service, OwnLinks own) : IInstrumentLinks
    {
        public Task<IInstrumentLink> OpenAsync(InstrumentSetup instrument, TimeSpan giveUpAfter, CancellationToken cancellationToken) =>
            service._stations.TryGetValue(instrument.Name, out var station)
                ? station.LendAsync(cancellationToken)
                : own.OpenAsync(instrument, giveUpAfter, cancellationToken);
    }
}

internal static partial class ServiceLog
{
    [LoggerMessage(50, LogLevel.Information, "Session {Session} goes on")]
    public static partial void Resumed(ILogger logger, Guid session);

    [LoggerMessage(51, LogLevel.Warning, "Session {Session} cannot be gone on with: {Reason}")]
    public static partial void NotResumed(ILogger logger, Guid session, string reason);

    [LoggerMessage(52, LogLevel.Warning, "Instrument {Instrument} cannot be read: {Reason}")]
    public static partial void NoStation(ILogger logger, string instrument, string reason);
}

using Acquire.Bench.Readings;
using Acquire.Bench.Sessions;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Links;
using Acquire.Instruments.Orders;
using Microsoft.Extensions.Logging;

namespace Acquire.Bench.Service;

/// <summary>What is known of an instrument of the house at this moment.</summary>
/// <param name="Instrument">Its name.</param>
/// <param name="Link">The state of its link, as it was last told.</param>
/// <param name="Since">Since when it is so.</param>
/// <param name="LastHeard">When something last came from it; null while nothing has since the service was started.</param>
/// <param name="ReadBy">Whether a session reads with it.</param>
public sealed record StationState(
    string Instrument, string Port, BenchUpdate.Link Link, DateTimeOffset Since, DateTimeOffset? LastHeard, bool ReadBy);

/// <summary>
/// The service's place for one instrument. It holds the port from beginning to end. While no session reads, it listens by itself: whatever
/// comes is in the store first, and a reading that comes so is a loose one. A session borrows the link, and no byte is lost between.
/// </summary>
public sealed class InstrumentStation : IAsyncDisposable
{
    private static readonly TimeSpan FirstPause = TimeSpan.FromSeconds(1);
    private static readonly TimeSpan LongestPause = TimeSpan.FromSeconds(30);

    private readonly AcquireStore _store;
    private readonly TimeProvider _time;
    private readonly ILogger _logger;
    private readonly InstrumentMeters? _meters;
    private readonly StationBoard _board;
    private readonly ReconnectingLink _link;
    private readonly SemaphoreSlim _turn = new(1);
    private readonly CancellationTokenSource _stop = new();
    private readonly ChangeSignal _changed = new();
    private CancellationTokenSource? _listening;
    private int _lent;
    private Task _running = Task.CompletedTask;
    private volatile StationState _state;
    private ImmutableArray<LooseReading> _loose = [];

    internal InstrumentStation(
        InstrumentSetup setup,
        AcquireStore store,
        ILinkOpener links,
        TimeProvider time,
        ILogger logger,
        BenchMeters? meters,
        StationBoard board)
    {
        (Setup, _store, _time, _logger, _meters, _board) = (setup, store, time, logger, meters?.Of(setup.Name), board);
        _link = ReconnectingLink.Begin(
            new InstrumentOpener(links, setup.Profile, time, logger), setup.Address, setup.Settings, time, options: null, logger);
        _state = new StationState(
            setup.Name,
            setup.Address.ToString(), new BenchUpdate.Link(LinkCondition.NotOpen, "not open yet", []), time.GetUtcNow(), null, false);
    }

    public InstrumentSetup Setup { get; }

    public StationState State => _state;

    /// <summary>The readings that came while nobody read, since the service was started, in the order in which they came.</summary>
    public ImmutableArray<LooseReading> Loose => _loose;

    /// <summary>Completes when state or loose readings are others than now.</summary>
    public Task Changed => _changed.Next;

    /// <summary>Begins to listen.</summary>
    internal void Start()
    {
        _board.Expects(Setup.Name);
        _running = Task.Run(RunAsync);
    }

    /// <summary>Lends the link to one session; it comes back when it is disposed.</summary>
    /// <exception cref="BenchException">Another session has it.</exception>
    internal async Task<IInstrumentLink> LendAsync(CancellationToken cancellationToken)
    {
        if (Interlocked.Exchange(ref _lent, 1) == 1)
        {
            throw new BenchException(
                $"A session reads with {Setup.Name} now. Watch it and go on with it, or end it: acquire session list");
        }

        try
        {
            // Queued before the listener is asked to stop, so that it cannot take its next turn first.
            var turn = _turn.WaitAsync(cancellationToken);
            await AskToStopAsync();
            await turn;
        }
        catch
        {
            _lent = 0;
            throw;
        }

        Set(_state with { ReadBy = true });
        return new Lent(this);
    }

    /// <summary>Loose readings of a service before this one.</summary>
    internal void Remember(IEnumerable<LooseReading> earlier) => _loose = [.. earlier];

    /// <summary>Says which loose readings are in a session now.</summary>
    internal void Took(IEnumerable<LooseId> taken, Guid session)
    {
        var ids = taken.ToHashSet();
        _ = ImmutableInterlocked.Update(ref _loose, all => [.. all.Select(r => ids.Contains(r.Id) ? r with { TakenBy = session } : r)]);
        _changed.Tell();
    }

    public async ValueTask DisposeAsync()
    {
        await _stop.CancelAsync();
        await _running.ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
        _board.Forget(Setup.Name);
        await _link.DisposeAsync();
        _stop.Dispose();
        _turn.Dispose();
    }

    /// <summary>Takes turns with sessions until the service ends. Whatever goes wrong here stays here.</summary>
    private async Task RunAsync()
    {
        var pause = FirstPause;
        while (!_stop.IsCancellationRequested)
        {
            try
            {
                await _turn.WaitAsync(_stop.Token);
                try
                {
                    _board.Runs(Setup.Name);
                    await ListenAsync();
                    pause = FirstPause;
                    continue;
                }
                finally
                {
                    _turn.Release();
                }
            }
            catch (OperationCanceledException) when (_stop.IsCancellationRequested)
            {
                return;
            }
            catch (Exception fault)
            {
                _board.HasEnded(Setup.Name, fault);
                StationLog.Failed(_logger, Setup.Name, pause.TotalSeconds, fault);
                Set(_state with
                {
                    Link = new BenchUpdate.Link(
                        LinkCondition.Gone,
                        FormattableString.Invariant($"gone: {fault.Message} Tried again in {pause.TotalSeconds:0} s."),
                        []),
                });
            }

            await Task.Delay(pause, _time, _stop.Token).ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
            pause = pause * 2 < LongestPause ? pause * 2 : LongestPause;
        }
    }

    /// <summary>Listens until a session wants the link, or the service ends.</summary>
    private async Task ListenAsync()
    {
        using var turn = CancellationTokenSource.CreateLinkedTokenSource(_stop.Token);
        _listening = turn;
        if (_lent == 1)
        {
            // Asked for between the turn and here.
            _listening = null;
            return;
        }

        var (profile, now) = (Setup.Profile, _time.GetUtcNow());
        var text = new ProfileText(profile.Name, profile.Hash, profile.Text);
        var journal = new ListeningJournal(
            _store, new Listening(Guid.CreateVersion7(now), Setup.Name, Setup.Address.ToString(), text, now), profile);
        try
        {
            var receptions = _link.ReadAllAsync(
                (opened, token) => InstrumentReader.ReceiveAllAsync(opened, profile, _time, token), TellAsync, turn.Token);
            await foreach (var reception in receptions)
            {
                await TakeAsync(journal, reception);
            }
        }
        catch (OperationCanceledException) when (turn.IsCancellationRequested)
        {
            // A session wants the link, or the service ends.
        }
        finally
        {
            _listening = null;
        }
    }

    private async Task AskToStopAsync()
    {
        try
        {
            await (_listening?.CancelAsync() ?? Task.CompletedTask);
        }
        catch (ObjectDisposedException)
        {
            // It has stopped by itself just now.
        }
    }

    private async Task TakeAsync(ListeningJournal journal, Reception reception)
    {
        var loose = await KeepAsync(journal, reception);
        foreach (var received in reception.Events)
        {
            _meters?.Took(received);
        }

        if (!loose.IsEmpty)
        {
            _ = ImmutableInterlocked.Update(ref _loose, all => all.AddRange(loose));
        }

        if (reception.Entry.Event == JournalEvent.Received)
        {
            Set(_state with { LastHeard = reception.Entry.At });
        }
    }

    /// <summary>
    /// Keeps what came, whoever wants the link meanwhile. Where the store cannot be written, it is waited for with the bytes in hand;
    /// nothing more is taken from the port until then.
    /// </summary>
    private async Task<ImmutableArray<LooseReading>> KeepAsync(ListeningJournal journal, Reception reception)
    {
        journal.Add(reception);
        while (true)
        {
            try
            {
                return await journal.KeepAsync();
            }
            catch (StoreException fault) when (!_stop.IsCancellationRequested)
            {
                StationLog.NotKept(_logger, Setup.Name, fault.Message);
                Set(_state with { Link = _state.Link with { Message = $"what comes cannot be kept: {fault.Message}" } });
                await Task.Delay(FirstPause, _time, _stop.Token).ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
            }
        }
    }

    private ValueTask TellAsync(LinkState state)
    {
        _meters?.Sees(state);
        Set(_state with { Link = BenchUpdate.Link.Of(state), Since = _time.GetUtcNow() });
        return ValueTask.CompletedTask;
    }

    private void Set(StationState state)
    {
        _state = state;
        _changed.Tell();
    }

    /// <summary>The link in a session's hands; the station goes on seeing its states.</summary>
    private sealed class Lent(InstrumentStation station) : IInstrumentLink
    {
        private int _returned;

        public IAsyncEnumerable<T> ReadAllAsync<T>(
            Func<IByteLink, CancellationToken, IAsyncEnumerable<T>> read,
            Func<LinkState, ValueTask> tell,
            CancellationToken cancellationToken) =>
            station._link.ReadAllAsync(
                read,
                async state =>
                {
                    await station.TellAsync(state);
                    await tell(state);
                },
                cancellationToken);

        public ValueTask DisposeAsync()
        {
            if (Interlocked.Exchange(ref _returned, 1) == 0)
            {
                station._lent = 0;
                station.Set(station._state with { ReadBy = false });
                station._turn.Release();
            }

            return ValueTask.CompletedTask;
        }
    }
}

internal static partial class StationLog
{
    [LoggerMessage(40, LogLevel.Error, "Listening to {Instrument} failed; tried again in {Seconds} s")]
    public static partial void Failed(ILogger logger, string instrument, double seconds, Exception fault);

    [LoggerMessage(41, LogLevel.Warning, "What {Instrument} sends cannot be kept: {Reason}")]
    public static partial void NotKept(ILogger logger, string instrument, string reason);
}

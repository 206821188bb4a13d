using System.Threading.Channels;
using Acquire.Bench.Sessions;
using Channel = System.Threading.Channels.Channel;

namespace Acquire.Bench.Service;

/// <summary>What became of a command that was given to a session.</summary>
/// <param name="Done">Whether it was carried out; false when the session had changed since what its sender saw, or is over.</param>
/// <param name="State">The session now.</param>
/// <param name="Since">What has happened since what its sender saw.</param>
public sealed record CommandFate(bool Done, LiveState State, ImmutableArray<LiveEvent> Since);

/// <summary>
/// A session that the service leads. It goes on whoever watches it, also nobody; any number may watch and operate it, and each command
/// counts for what its sender saw or not at all.
/// </summary>
public sealed class LiveSession : IBenchDisplay
{
    private readonly Channel<BenchCommand> _commands = Channel.CreateBounded<BenchCommand>(64);
    private readonly List<BenchUpdate> _shown = [];
    private readonly TaskCompletionSource<OpenSession> _begun = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private readonly Lock _lock = new();
    private OpenSession? _open;
    private volatile LiveState? _state;
    private Task _ended = Task.CompletedTask;

    internal LiveSession(string instrument) => Instrument = instrument;

    /// <summary>The instrument it reads with.</summary>
    public string Instrument { get; }

    public BenchSession Session => _open!.Session;

    public SessionPlan Plan => _open!.Plan;

    public LiveState State => _state!;

    /// <summary>What it shows and showed.</summary>
    public LiveEvents Events { get; } = new();

    /// <summary>Completes when it is over.</summary>
    public Task Ended => _ended;

    /// <summary>The fault that ended it, or kept a record from being made; null when none did.</summary>
    public Exception? Fault { get; private set; }

    /// <summary>How it ended; null while it goes on, and when a fault kept it from ending properly.</summary>
    public SessionResult? Result { get; private set; }

    /// <summary>Gives a command for what its sender saw.</summary>
    /// <param name="seen">The number of the last entry that they had seen; null where it counts whatever was seen.</param>
    public async Task<CommandFate> DoAsync(BenchCommand command, int? seen, CancellationToken cancellationToken)
    {
        var done = new TaskCompletionSource<bool>(TaskCreationOptions.RunContinuationsAsynchronously);
        var given = new BenchCommand.Seen(command, seen ?? int.MaxValue, carried => done.TrySetResult(carried));
        if (State.IsOver || !_commands.Writer.TryWrite(given))
        {
            return new CommandFate(false, State, Events.Since(seen ?? 0));
        }

        // A session that ends meanwhile does not answer any more.
        _ = await Task.WhenAny(done.Task, _ended).WaitAsync(cancellationToken);
        var carried = done.Task.IsCompletedSuccessfully && done.Task.Result;
        if (carried && command is BenchCommand.Cancel)
        {
            // Whoever ended it finds the end in the store, and the instrument free.
            await _ended.WaitAsync(cancellationToken);
        }

        return new CommandFate(carried, State, Events.Since(seen ?? 0));
    }

    public void Show(BenchUpdate update)
    {
        // A notice tells why nothing moves, so it must not wait until something does.
        if (update is BenchUpdate.Notice && _state is { } state)
        {
            Events.Add(new LiveEvent(state.Sequence, [update], state, Moved: false));
            return;
        }

        lock (_lock)
        {
            _shown.Add(update);
        }
    }

    public void Settled(SessionProgress progress)
    {
        var phase = progress.Strip.IsComplete
            ? progress.Questions.Open is null ? LivePhase.AllRead : LivePhase.Asking
            : progress.Questions.Open is null ? LivePhase.Reading : LivePhase.Asking;
        ImmutableArray<BenchUpdate> shown;
        lock (_lock)
        {
            shown = [.. _shown];
            _shown.Clear();
        }

        // In the constructor's order: before it has begun nothing is asked.
        var before = _state;
        var question = progress.Questions.Open is null
            ? null
            : shown.OfType<BenchUpdate.Question>().LastOrDefault() ?? before?.Question;
        var state = new LiveState(progress.Entries, phase, progress.Strip, question, null, null);
        _state = state;
        var moved = before is null || before.Sequence != state.Sequence;
        if (moved || !shown.IsEmpty)
        {
            Events.Add(new LiveEvent(state.Sequence, shown, state, moved));
        }
    }

    /// <summary>Runs it. Returns when it has begun and is in the store, or throws why it cannot.</summary>
    /// <param name="read">The reading, on the seat it is given.</param>
    /// <param name="over">Is told when it is over.</param>
    internal async Task StartAsync<TKept>(
        Func<BenchSeat, Task<Readings.ReadingResult<TKept>>> read, TimeSpan? keepAfter, string program, Action<LiveSession> over)
        where TKept : KeptReading
    {
        var seat = new BenchSeat(this, _commands.Reader)
        {
            KeepAfter = keepAfter,
            GiveUpAfter = Timeout.InfiniteTimeSpan,
            Program = program,
            Began = Begin,
            AlsoBegins = (writing, id) => writing.LeadSession(id, keepAfter),
        };
        var running = Task.Run(() => read(seat));
        var first = await Task.WhenAny(_begun.Task, running);
        if (first == running && running.IsFaulted && !_begun.Task.IsCompleted)
        {
            _ = await running;
        }

        _open = await _begun.Task;
        _ended = EndAsync(running, over);
    }

    private void Begin(OpenSession session)
    {
        _open = session;
        Settled(session.Progress);
        _ = _begun.TrySetResult(session);
    }

    private async Task EndAsync<TKept>(Task<Readings.ReadingResult<TKept>> running, Action<LiveSession> over)
        where TKept : KeptReading
    {
        KeptReading? kept = null;
        try
        {
            (Result, kept) = await running;
        }
        catch (Exception fault)
        {
            Fault = fault;
        }

        Fault ??= Result?.Outcome.Fault;
        var (phase, reason) = Result switch
        {
            null => (LivePhase.Failed, Fault!.Message),
            { GoesOn: true } => (LivePhase.BrokenOff, Result.Outcome.Reason),
            { Outcome: { Outcome: SessionOutcome.Completed, Reason: var text } } => (LivePhase.Completed, text),
            { Outcome: { Outcome: SessionOutcome.Cancelled, Reason: var text } } => (LivePhase.Cancelled, text),
            _ => (LivePhase.Failed, Result.Outcome.Reason),
        };
        var state = State with { Phase = phase, Reason = reason, Question = null, Kept = kept };
        _state = state;
        Events.Add(new LiveEvent(state.Sequence, [], state, Moved: true));
        Events.End();
        over(this);
    }
}

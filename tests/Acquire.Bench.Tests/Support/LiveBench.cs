using System.Runtime.CompilerServices;
using System.Text;
using System.Threading.Channels;
using Acquire.Analysis.Plausibility;
using Acquire.Bench.Sessions;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Links;
using Acquire.Instruments.Profiles;
using Channel = System.Threading.Channels.Channel;

namespace Acquire.Bench.Tests.Support;

/// <summary>A guided reading fed by the real reader from links whose bytes, pauses and breaks are drawn.</summary>
internal sealed class LiveBench(DeviceProfile profile, int seed) : ISessionJournal, IBenchDisplay, IAsyncDisposable
{
    private readonly Lock _gate = new();
    private readonly CountingTime _time = new();
    private readonly Random _dice = new(seed);
    private readonly Channel<ScriptedLink> _links = Channel.CreateUnbounded<ScriptedLink>();
    private readonly Channel<BenchCommand> _commands = Channel.CreateUnbounded<BenchCommand>();
    private readonly LineWriter _writer = new(profile);
    private LineFramer _framer = new(profile.Framing, profile.Link.MaskTopBit);
    private ScriptedLink _link = new();
    private Func<LinkState, ValueTask>? _tell;
    private int _timersBeforeRead;
    private (int Bytes, int Commands, int Links, int Fences) _sent;
    private (int Bytes, int Commands, int Links, int Fences) _seen;

    public SessionProgress Progress { get; } = new(Some.Plan(3));

    public List<JournalEntry> Entries { get; } = [];

    public List<ReceivedLine> Lines { get; } = [];

    /// <summary>Takes the steps and breaks off.</summary>
    /// <param name="atLeisure">
    /// Each step has had its whole effect before the next, so that the journal is the same each time; otherwise how far each came, and
    /// what shares a commit, is left to the machine.
    /// </param>
    public async Task<GuidedOutcome> RunAsync(int[] steps, bool atLeisure, CancellationToken cancellationToken)
    {
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(cancellationToken);
        Plug(_link);
        var questioner = new SessionQuestioner(new StripKnowledge(AskedStrip.Sheet, Some.Layout), atKeyboard: true);
        var running = new GuidedReading(Progress, this, this, _time, TimeSpan.FromHours(1), questioner).RunAsync(
            tell =>
            {
                _tell = tell;
                return ListenAsync(stop.Token);
            },
            _commands.Reader,
            stop.Token);
        if (atLeisure)
        {
            await SettleAsync(running, cancellationToken);
        }

        foreach (var step in steps)
        {
            foreach (var part in PartsOf(step))
            {
                part();
                if (atLeisure)
                {
                    await SettleAsync(running, cancellationToken);
                }
            }

            if (!atLeisure)
            {
                await Task.Delay(TimeSpan.FromMilliseconds(_dice.Next(2)), TimeProvider.System, cancellationToken);
            }
        }

        await stop.CancelAsync();
        return await running;
    }

    public Task AppendAsync(IReadOnlyList<JournalEntry> entries, IReadOnlyList<ReceivedLine> lines, CancellationToken cancellationToken)
    {
        lock (_gate)
        {
            Entries.AddRange(entries);
            Lines.AddRange(lines);
            foreach (var entry in entries)
            {
                See(entry);
            }
        }

        return Task.CompletedTask;
    }

    public void Show(BenchUpdate update)
    {
        lock (_gate)
        {
            _seen.Commands += update is BenchUpdate.Done ? 1 : 0;
            _seen.Fences += update is BenchUpdate.Link ? 1 : 0;
        }
    }

    public ValueTask DisposeAsync() => _link.DisposeAsync();

    private void See(JournalEntry entry)
    {
        switch (entry.Event)
        {
            case JournalEvent.Opened:
                _framer = new LineFramer(profile.Framing, profile.Link.MaskTopBit);
                _seen.Links++;
                break;
            case JournalEvent.Received:
                _ = _framer.Push(entry.Bytes.AsSpan(), entry.At);
                _seen.Bytes += entry.Bytes.Length;
                break;
            case JournalEvent.Paused:
                _ = _framer.Flush(entry.At);
                break;
            default:
                break;
        }
    }

    /// <summary>
    /// All that was sent is kept, each command was answered, and the reader waits at the link, with a timer where a pause would end a
    /// line: whatever is done next comes after all this.
    /// </summary>
    private bool IsSettled
    {
        get
        {
            lock (_gate)
            {
                return _seen == _sent && _link.IsAwaited
                    && (_framer.Deadline is not { } deadline
                        || (deadline > _time.GetUtcNow() && _time.TimersMade > _timersBeforeRead));
            }
        }
    }

    private async Task SettleAsync(Task running, CancellationToken cancellationToken)
    {
        await UntilSettledAsync();

        // What is kept may still be thought about, and a question be asked of it. What is told of the link is shown after that.
        _sent.Fences++;
        await _tell!(new LinkState.Connected("scripted", []));
        await UntilSettledAsync();

        async Task UntilSettledAsync()
        {
            while (!IsSettled && !running.IsCompleted)
            {
                cancellationToken.ThrowIfCancellationRequested();
                await Task.Yield();
            }
        }
    }

    private void Plug(ScriptedLink link)
    {
        link.Awaited = () => _timersBeforeRead = _time.TimersMade;
        _link = link;
        _sent.Links++;
        _links.Writer.TryWrite(link);
    }

    private void Replug()
    {
        _link.Break();
        Plug(new ScriptedLink());
    }

    private void Press(BenchCommand command)
    {
        _sent.Commands++;
        _commands.Writer.TryWrite(command);
    }

    private void Send(string text)
    {
        _sent.Bytes += text.Length;
        _link.Send(text);
    }

    private IEnumerable<Action> PartsOf(int step) => step switch
    {
        < 4 => Chunks(),
        4 => [() => _time.Advance(TimeSpan.FromMilliseconds(_dice.Next(2) == 0 ? 120 : 300))],
        5 => [() => Press(new BenchCommand.Undo())],
        6 => [() => Press(_dice.Next(3) switch
        {
            0 => new BenchCommand.LeaveOutRead("dust"),
            1 => new BenchCommand.LeaveOutPatch("scratch"),
            _ => new BenchCommand.ReadPatchAgain(),
        })],
        7 => [Replug],
        8 => [() => Send("Q#\r\n")],
        > 9 => [() => Press(_dice.Next(3) == 0 ? new BenchCommand.No() : new BenchCommand.Yes())],
        _ => [() => _time.Advance(TimeSpan.FromSeconds(30))],
    };

    /// <summary>A reading in the instrument's way, cut anywhere; sometimes its end does not come.</summary>
    private IEnumerable<Action> Chunks()
    {
        var densities =
            new ChannelDensities(new Density(_dice.Next(20, 45) / 100m), new Density(0.62m), new Density(0.80m), new Density(0.58m));
        var bytes = string.Concat(_writer.WriteReading(densities).Select(Encoding.Latin1.GetString));
        for (var rest = _dice.Next(6) == 0 ? bytes[.._dice.Next(bytes.Length)] : bytes; rest.Length > 0;)
        {
            var cut = _dice.Next(1, rest.Length + 1);
            var chunk = rest[..cut];
            yield return () => Send(chunk);
            rest = rest[cut..];
        }
    }

    private async IAsyncEnumerable<Reception> ListenAsync([EnumeratorCancellation] CancellationToken cancellationToken)
    {
        await foreach (var link in _links.Reader.ReadAllAsync(cancellationToken))
        {
            await using var receptions =
                InstrumentReader.ReceiveAllAsync(link, profile, _time, cancellationToken).GetAsyncEnumerator(cancellationToken);
            while (await NextAsync(receptions))
            {
                yield return receptions.Current;
            }
        }
    }

    private static async ValueTask<bool> NextAsync(IAsyncEnumerator<Reception> receptions)
    {
        try
        {
            return await receptions.MoveNextAsync();
        }
        catch (LinkException)
        {
            return false;
        }
    }
}
/// <summary>Counts its timers for pauses, so that a test knows that the reader waits for the time it sets.</summary>
internal sealed class CountingTime() : FakeTimeProvider(Some.Moment)
{
    private int _timersMade;

    public int TimersMade => Volatile.Read(ref _timersMade);

    public override ITimer CreateTimer(TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period)
    {
        var timer = base.CreateTimer(callback, state, dueTime, period);
        if (dueTime < TimeSpan.FromMinutes(1))
        {
            _ = Interlocked.Increment(ref _timersMade);
        }

        return timer;
    }
}

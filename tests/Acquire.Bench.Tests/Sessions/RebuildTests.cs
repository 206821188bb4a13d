using System.Runtime.CompilerServices;
using System.Text;
using System.Threading.Channels;
using Acquire.Analysis.Plausibility;
using Acquire.Bench.Sessions;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Links;
using Acquire.Instruments.ProfileFiles;
using Acquire.Instruments.Profiles;
using CsCheck;

namespace Acquire.Bench.Tests.Sessions;

/// <summary>A session rebuilt from its journal is the session that ran, wherever it was broken off.</summary>
[Trait("speed", "slow")]
public sealed class RebuildTests
{
    private static CancellationToken Token => TestContext.Current.CancellationToken;

    /// <summary>
    /// Random lines cut anywhere, pauses, breaks of the link and decisions, broken off at a random moment; the live state is what the
    /// loop ended with. Pauses of 120 and 300 ms lie on either side of the idle gap of the profile whose lines end with one. Half of the
    /// sessions take each step at its leisure, half are overtaken by the next ones and broken off in the middle.
    /// </summary>
    [Theory]
    [InlineData("labelled-line")]
    [InlineData("pause-ended-line")]
    [InlineData("channel-lines-labelled")]
    [InlineData("channel-lines-plain")]
    public void Rebuild_of_any_session_equals_the_live_one(string profileName)
    {
        var profile = new ProfileLibrary().Find(profileName);
        Gen.Select(Gen.Int[0, 11].Array[1, 40], Gen.Int, Gen.Bool).Sample(
            (steps, seed, atLeisure) => AssertRebuildsAsync(profile, steps, seed, atLeisure).GetAwaiter().GetResult(),
            iter: 40,
            threads: 1);
    }

    /// <summary>
    /// The property would hold for nothing as well: in sessions that are the same each time, every kind of entry comes up, and questions are
    /// answered.
    /// </summary>
    [Theory]
    [InlineData("labelled-line")]
    [InlineData("pause-ended-line")]
    [InlineData("channel-lines-labelled")]
    [InlineData("channel-lines-plain")]
    public async Task Rebuild_is_tried_with_every_kind_of_entry(string profileName)
    {
        var profile = new ProfileLibrary().Find(profileName);
        var asked = 0;
        var kinds = new HashSet<JournalEvent>();
        for (var seed = 1; seed <= 8; seed++)
        {
            var dice = new Random(seed);
            var (entries, answered) =
                await AssertRebuildsAsync(profile, [.. Enumerable.Range(0, 40).Select(_ => dice.Next(12))], seed, atLeisure: true);
            asked += answered;
            kinds.UnionWith(entries.Select(e => e.Event));
        }

        JournalEvent[] expected = profile.Framing.IdleGap is null
            ? [JournalEvent.Opened, JournalEvent.Received, JournalEvent.Broke, JournalEvent.Decided]
            : Enum.GetValues<JournalEvent>();
        Assert.Empty(expected.Except(kinds));

        // Where a line ends with a pause only, drawn steps give few readings, and none that is asked about.
        Assert.True(asked > 0 || profile.Framing.IdleGap is not null, $"{asked} questions were answered");
    }

    private static async Task<(List<JournalEntry> Entries, int Answered)> AssertRebuildsAsync(
        DeviceProfile profile, int[] steps, int seed, bool atLeisure)
    {
        await using var bench = new LiveBench(profile, seed);
        var outcome = await bench.RunAsync(steps, atLeisure, Token);
        var rebuilt = SessionProgress.Rebuild(Some.Plan(3), profile, bench.Entries);
        Assert.Equal(SessionText.Of(outcome.Strip, outcome.Lines), SessionText.Of(rebuilt.Strip, rebuilt.Lines));
        Assert.Equal(SessionText.Of(bench.Progress.Questions), SessionText.Of(rebuilt.Questions));
        Assert.Equal(bench.Lines.Select(l => l.Line.Text), rebuilt.Lines.Select(l => l.Line.Text));
        Assert.Equal(bench.Entries.Select((_, i) => i + 1), bench.Entries.Select(e => e.Sequence));
        return (bench.Entries, rebuilt.Questions.All.Count(q => q.IsAnswered));
    }

    /// <summary>The same after every entry of one session, not only at its end.</summary>
    [Fact]
    public async Task Rebuild_of_every_prefix_equals_the_state_after_that_entry()
    {
        var profile = new ProfileLibrary().Find("labelled-line");
        await using var bench = new LiveBench(profile, seed: 4);
        _ = await bench.RunAsync([.. Enumerable.Range(0, 60).Select(i => i % 7)], atLeisure: true, Token);
        var live = new SessionProgress(Some.Plan(3));
        var lines = new LineReception(profile);
        for (var n = 0; n < bench.Entries.Count; n++)
        {
            var reception = live.Number(lines.Take(bench.Entries[n] with { Sequence = 0 }));
            live.Add(reception.Events);
            foreach (var received in reception.Events)
            {
                live.Take(received);
            }

            if (reception.Entry.Decision is { } decision)
            {
                live.Carry(DecisionJson.Parse(decision), reception.Entry.At);
            }

            var rebuilt = SessionProgress.Rebuild(Some.Plan(3), profile, bench.Entries.Take(n + 1));
            Assert.Equal(SessionText.Of(live.Strip, live.Lines), SessionText.Of(rebuilt.Strip, rebuilt.Lines));
        }

        Assert.True(live.Strip.ReadsTaken > 3);
    }

    [Fact]
    public async Task Decision_is_in_the_journal_before_its_effect_is_shown()
    {
        var bench = new ScriptedBench();
        bench.Instrument(Some.Taken());
        var running = bench.RunAsync(Token);
        await bench.ShownAsync<BenchUpdate.Accepted>();
        bench.Press(new BenchCommand.LeaveOutRead("dust"));
        await bench.ShownAsync<BenchUpdate.Done>();
        bench.Press(new BenchCommand.Cancel());
        _ = await running;
        Assert.Equal("""{"do":"leave_out_read","reason":"dust"}""", bench.Entries[^1].Decision);
    }

    [Fact]
    public async Task Decision_that_cannot_be_kept_has_no_effect()
    {
        var bench = new ScriptedBench { DecisionFault = new StoreException(StoreFault.DiskFull, "The disk is full.") };
        bench.Instrument(Some.Taken());
        var running = bench.RunAsync(Token);
        await bench.ShownAsync<BenchUpdate.Accepted>();
        bench.Press(new BenchCommand.Undo());
        var outcome = await running;
        Assert.Equal(SessionOutcome.Failed, outcome.Outcome);
        Assert.True(outcome.Strip.Patches[0].Reads[0].Counts);
        Assert.DoesNotContain(bench.Shown, u => u is BenchUpdate.Done);
    }

    [Theory]
    [InlineData("{\"do\":\"fly\"}")]
    [InlineData("{}")]
    [InlineData("{\"do\":\"leave_out_read\"}")]
    public void Decision_of_a_version_to_come_is_refused_in_words(string decision)
    {
        JournalEntry entry = new(1, Some.Moment, JournalEvent.Decided) { Decision = decision };
        var fault = Assert.Throws<BenchException>(
            () => SessionProgress.Rebuild(Some.Plan(), new ProfileLibrary().Find("labelled-line"), [entry]));
        Assert.Contains(decision, fault.Message, StringComparison.Ordinal);
    }

    /// <summary>A guided reading fed by the real reader from links whose bytes, pauses and breaks are drawn.</summary>
    private sealed class LiveBench(DeviceProfile profile, int seed) : ISessionJournal, IBenchDisplay, IAsyncDisposable
    {
        private readonly Lock _gate = new();
        private readonly CountingTime _time = new();
        private readonly Random _dice = new(seed);
        private readonly Channel<ScriptedLink> _links = System.Threading.Channels.Channel.CreateUnbounded<ScriptedLink>();
        private readonly Channel<BenchCommand> _commands = System.Threading.Channels.Channel.CreateUnbounded<BenchCommand>();
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
    private sealed class CountingTime() : FakeTimeProvider(Some.Moment)
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
}

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
    /// loop ended with. Pauses of 120 and 300 ms lie on either side of the idle gap of the profile whose lines end with one.
    /// </summary>
    [Theory]
    [InlineData("labelled-line")]
    [InlineData("pause-ended-line")]
    [InlineData("channel-lines-labelled")]
    [InlineData("channel-lines-plain")]
    public void Rebuild_of_any_session_equals_the_live_one(string profileName)
    {
        var profile = new ProfileLibrary().Find(profileName);
        var asked = 0;
        var kinds = new Dictionary<JournalEvent, int>();
        Gen.Select(Gen.Int[0, 11].Array[1, 40], Gen.Int).Sample(
            (steps, seed) =>
            {
                var bench = new LiveBench(profile, seed);
                var outcome = bench.RunAsync(steps, Token).GetAwaiter().GetResult();
                var rebuilt = SessionProgress.Rebuild(Some.Plan(3), profile, bench.Entries);
                Assert.Equal(SessionText.Of(outcome.Strip, outcome.Lines), SessionText.Of(rebuilt.Strip, rebuilt.Lines));
                Assert.Equal(SessionText.Of(bench.Progress.Questions), SessionText.Of(rebuilt.Questions));
                asked += rebuilt.Questions.All.Count(q => q.IsAnswered);
                Assert.Equal(bench.Lines.Select(l => l.Line.Text), rebuilt.Lines.Select(l => l.Line.Text));
                Assert.Equal(bench.Entries.Select((_, i) => i + 1), bench.Entries.Select(e => e.Sequence));
                foreach (var entry in bench.Entries)
                {
                    kinds[entry.Event] = kinds.GetValueOrDefault(entry.Event) + 1;
                }
            },
            iter: 40,
            threads: 1);

        // The property would hold for nothing as well: every kind of entry must have come up.
        Assert.True(asked > 0 || profile.Framing.IdleGap is not null, $"{asked} questions were answered");
        JournalEvent[] expected = profile.Framing.IdleGap is null
            ? [JournalEvent.Opened, JournalEvent.Received, JournalEvent.Broke, JournalEvent.Decided]
            : Enum.GetValues<JournalEvent>();
        Assert.All(expected, e => Assert.True(kinds.GetValueOrDefault(e) > 0, $"{e}: {kinds.GetValueOrDefault(e)}"));
    }

    /// <summary>The same after every entry of one session, not only at its end.</summary>
    [Fact]
    public async Task Rebuild_of_every_prefix_equals_the_state_after_that_entry()
    {
        var profile = new ProfileLibrary().Find("labelled-line");
        await using var bench = new LiveBench(profile, seed: 4);
        _ = await bench.RunAsync([.. Enumerable.Range(0, 60).Select(i => i % 7)], Token);
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
        private readonly FakeTimeProvider _time = new(Some.Moment);
        private readonly Random _dice = new(seed);
        private readonly Channel<ScriptedLink> _links = System.Threading.Channels.Channel.CreateUnbounded<ScriptedLink>();
        private readonly Channel<BenchCommand> _commands = System.Threading.Channels.Channel.CreateUnbounded<BenchCommand>();
        private readonly LineWriter _writer = new(profile);
        private ScriptedLink _link = new();

        public SessionProgress Progress { get; } = new(Some.Plan(3));

        public List<JournalEntry> Entries { get; } = [];

        public List<ReceivedLine> Lines { get; } = [];

        public async Task<GuidedOutcome> RunAsync(int[] steps, CancellationToken cancellationToken)
        {
            using var stop = CancellationTokenSource.CreateLinkedTokenSource(cancellationToken);
            _links.Writer.TryWrite(_link);
            var questioner = new SessionQuestioner(new StripKnowledge(AskedStrip.Sheet, Some.Layout), atKeyboard: true);
            var running = new GuidedReading(Progress, this, this, _time, TimeSpan.FromHours(1), questioner).RunAsync(
                ListenAsync(stop.Token), _commands.Reader, stop.Token);
            foreach (var step in steps)
            {
                Do(step);
                await Task.Delay(TimeSpan.FromMilliseconds(_dice.Next(2)), TimeProvider.System, cancellationToken);
            }

            await stop.CancelAsync();
            return await running;
        }

        public Task AppendAsync(IReadOnlyList<JournalEntry> entries, IReadOnlyList<ReceivedLine> lines, CancellationToken cancellationToken)
        {
            Entries.AddRange(entries);
            Lines.AddRange(lines);
            return Task.CompletedTask;
        }

        public void Show(BenchUpdate update)
        {
        }

        public ValueTask DisposeAsync() => _link.DisposeAsync();

        private void Do(int step)
        {
            switch (step)
            {
                case < 4:
                    Send();
                    break;
                case 4:
                    _time.Advance(TimeSpan.FromMilliseconds(_dice.Next(2) == 0 ? 120 : 300));
                    break;
                case 5:
                    _commands.Writer.TryWrite(new BenchCommand.Undo());
                    break;
                case 6:
                    _commands.Writer.TryWrite(_dice.Next(3) switch
                    {
                        0 => new BenchCommand.LeaveOutRead("dust"),
                        1 => new BenchCommand.LeaveOutPatch("scratch"),
                        _ => new BenchCommand.ReadPatchAgain(),
                    });
                    break;
                case 7:
                    _link.Break();
                    _links.Writer.TryWrite(_link = new ScriptedLink());
                    break;
                case 8:
                    _link.Send("Q#\r\n");
                    break;
                case > 9:
                    _commands.Writer.TryWrite(_dice.Next(3) == 0 ? new BenchCommand.No() : new BenchCommand.Yes());
                    break;
                default:
                    _time.Advance(TimeSpan.FromSeconds(30));
                    break;
            }
        }

        /// <summary>A reading in the instrument's way, cut anywhere; sometimes its end does not come.</summary>
        private void Send()
        {
            var densities =
                new ChannelDensities(new Density(_dice.Next(20, 45) / 100m), new Density(0.62m), new Density(0.80m), new Density(0.58m));
            var bytes = string.Concat(_writer.WriteReading(densities).Select(Encoding.Latin1.GetString));
            for (var rest = _dice.Next(6) == 0 ? bytes[.._dice.Next(bytes.Length)] : bytes; rest.Length > 0;)
            {
                var cut = _dice.Next(1, rest.Length + 1);
                _link.Send(rest[..cut]);
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
}

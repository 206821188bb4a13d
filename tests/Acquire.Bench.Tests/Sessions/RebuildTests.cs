using Acquire.Bench.Sessions;
using Acquire.Instruments.Lines;
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
    /// The property would hold for nothing as well: in sessions that are the same each time, every kind of entry comes up, and
    /// questions are answered.
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
}

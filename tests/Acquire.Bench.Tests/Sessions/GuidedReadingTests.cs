using Acquire.Bench.Guidance;
using Acquire.Bench.Sessions;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Links;

namespace Acquire.Bench.Tests.Sessions;

public class GuidedReadingTests
{
    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Instrument_alone_completes_a_strip()
    {
        var bench = new ScriptedBench();
        bench.Instrument(Some.Taken(), Some.Taken(), Some.Taken(), Some.Taken());
        var outcome = await bench.RunAsync(Token);
        Assert.Equal(SessionOutcome.Completed, outcome.Outcome);
        Assert.True(outcome.Strip.IsComplete);
        Assert.Equal([1, 2, 3, 4], bench.Journal.Select(l => l.Sequence));
    }

    [Fact]
    public async Task Lines_that_are_no_readings_land_on_no_patch_and_are_kept()
    {
        var bench = new ScriptedBench();
        bench.Instrument(
            new InstrumentEvent.BeyondRange(Some.Line("R >4.0"), [Channel.Red]),
            new InstrumentEvent.UnmatchedLine(Some.Line("Q#1"), "expected 'R'"),
            new InstrumentEvent.InstrumentError(Some.Line("ERR 12")),
            new InstrumentEvent.CalibrationNote(Some.Line("CAL OK")),
            new InstrumentEvent.IgnoredLine(Some.Line("----")));
        bench.Instrument(Some.Taken(), Some.Taken(), Some.Taken(), Some.Taken());
        var outcome = await bench.RunAsync(Token);
        Assert.Equal(4, outcome.Strip.ReadsTaken);
        Assert.Equal(9, bench.Journal.Count);
        Assert.Equal(1, outcome.UnmatchedLines);
        var attention = await bench.ShownAsync<BenchUpdate.Attention>();
        Assert.Contains("Beyond the instrument's range in red", attention.Message, StringComparison.Ordinal);
        Assert.Contains(
            "'Q#1'. expected 'R'. It is kept", (await bench.ShownAsync<BenchUpdate.Attention>()).Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Reading_without_a_needed_channel_is_not_taken()
    {
        var bench = new ScriptedBench(reads: 1);
        var visual = new Reading(new ChannelDensities(null, null, null, new Density(0.58m)), Some.Moment, [Some.Line("V 0.58")]);
        bench.Instrument(new InstrumentEvent.ReadingTaken(Some.Line("V 0.58"), visual), Some.Taken(), Some.Taken());
        var outcome = await bench.RunAsync(Token);
        Assert.Equal(2, outcome.Strip.ReadsTaken);
        Assert.Contains("no red, green, blue density", (await bench.ShownAsync<BenchUpdate.Attention>()).Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0.31, false)]
    [InlineData(0.32, true)]
    [InlineData(0.20, true)]
    public async Task Repeat_far_from_the_one_before_is_questioned_and_still_taken(double second, bool questioned)
    {
        var bench = new ScriptedBench();
        bench.Instrument(Some.Taken(0.26m), Some.Taken((decimal)second), Some.Taken(), Some.Taken());
        var outcome = await bench.RunAsync(Token);
        Assert.Equal(4, outcome.Strip.ReadsTaken);
        Assert.Equal(questioned, bench.Shown.OfType<BenchUpdate.Attention>().Any());
    }

    [Fact]
    public async Task Broken_link_fails_the_session_and_keeps_what_was_read()
    {
        var bench = new ScriptedBench();
        bench.Instrument(Some.Taken(), Some.Taken(), Some.Taken());
        bench.BreakLink();
        var outcome = await bench.RunAsync(Token);
        Assert.Equal(SessionOutcome.Failed, outcome.Outcome);
        Assert.Equal(3, outcome.Strip.ReadsTaken);
        Assert.IsType<LinkException>(outcome.Fault);
    }

    [Fact]
    public async Task Failing_store_stops_the_session_with_the_unstored_line_in_hand()
    {
        var bench = new ScriptedBench { JournalFault = (3, new StoreException(StoreFault.DiskFull, "The disk is full.")) };
        bench.Instrument(Some.Taken(0.26m), Some.Taken(0.27m));
        var running = bench.RunAsync(Token);
        await bench.ShownAsync<BenchUpdate.Accepted>();
        await bench.ShownAsync<BenchUpdate.Accepted>();
        bench.Instrument(Some.Taken(0.46m));
        var outcome = await running;
        Assert.Equal(SessionOutcome.Failed, outcome.Outcome);
        Assert.True(outcome.MayGoOn);
        Assert.Equal("The disk is full.", outcome.Reason);
        Assert.Equal(2, outcome.Strip.ReadsTaken);
        Assert.Equal(3, outcome.Lines.Length);
    }

    [Fact]
    public async Task Fault_of_the_program_ends_the_session_instead_of_hanging_it()
    {
        var bench = new ScriptedBench();
        bench.Instrument(Some.Taken());
        bench.Fail(new InvalidOperationException("a bug in the reader"));
        var fault = await Assert.ThrowsAsync<InvalidOperationException>(() => bench.RunAsync(Token));
        Assert.Equal("a bug in the reader", fault.Message);
        Assert.Single(bench.Journal);
    }

    [Fact]
    public async Task Cancel_ends_the_session_and_keeps_the_lines()
    {
        var bench = new ScriptedBench();
        bench.Instrument(Some.Taken());
        var running = bench.RunAsync(Token);
        await bench.ShownAsync<BenchUpdate.Accepted>();
        bench.Press(new BenchCommand.Cancel());
        var outcome = await running;
        Assert.Equal(SessionOutcome.Cancelled, outcome.Outcome);
        Assert.Single(outcome.Lines);
    }

    [Fact]
    public async Task Token_ends_the_session_as_cancelled()
    {
        using var stop = new CancellationTokenSource();
        var bench = new ScriptedBench();
        bench.Instrument(Some.Taken());
        var running = bench.RunAsync(stop.Token);
        await bench.ShownAsync<BenchUpdate.Accepted>();
        await stop.CancelAsync();
        Assert.Equal(SessionOutcome.Cancelled, (await running).Outcome);
    }

    [Fact]
    public async Task Undo_and_reasons_reach_the_strip()
    {
        var bench = new ScriptedBench();
        bench.Instrument(Some.Taken(0.31m));
        var running = bench.RunAsync(Token);
        await bench.ShownAsync<BenchUpdate.Accepted>();
        bench.Press(new BenchCommand.LeaveOutRead("dust on the patch"));
        await bench.ShownAsync<BenchUpdate.Done>();
        bench.Instrument(Some.Taken(), Some.Taken(), Some.Taken(), Some.Taken());
        var first = (await running).Strip.Patches[0].Reads[0];
        Assert.Equal("dust on the patch", first.Exclusion!.Reason);
    }

    [Fact]
    public async Task Command_with_nothing_to_do_says_so()
    {
        var bench = new ScriptedBench();
        var running = bench.RunAsync(Token);
        bench.Press(new BenchCommand.Undo());
        Assert.Equal("There is nothing to do that to.", (await bench.ShownAsync<BenchUpdate.Done>()).Message);
        bench.Press(new BenchCommand.Cancel());
        await running;
    }

    [Fact]
    public async Task Last_step_can_be_taken_back_until_the_time_is_up()
    {
        var time = new FakeTimeProvider();
        var bench = new ScriptedBench(time, TimeSpan.FromSeconds(5), reads: 1);
        bench.Instrument(Some.Taken(), Some.Taken(0.99m));
        var running = bench.RunAsync(Token);
        await bench.ShownAsync<BenchUpdate.AllRead>();
        bench.Press(new BenchCommand.Undo());
        await bench.ShownAsync<BenchUpdate.Done>();
        bench.Instrument(Some.Taken(0.46m));
        await bench.ShownAsync<BenchUpdate.AllRead>();
        while (!running.IsCompleted)
        {
            time.Advance(TimeSpan.FromSeconds(5));
            await Task.Yield();
        }

        var outcome = await running;
        Assert.Equal(SessionOutcome.Completed, outcome.Outcome);
        Assert.Equal(0.46m, Assert.Single(outcome.Strip.Patches[1].Accepted).Densities.Red!.Value.Value);
        Assert.Equal(GuidedStrip.TakenBack, outcome.Strip.Patches[1].Reads[0].Exclusion!.Reason);
    }

    [Fact]
    public async Task Link_lost_when_all_is_read_spoils_nothing()
    {
        var bench = new ScriptedBench(new FakeTimeProvider(), TimeSpan.FromHours(1), reads: 1);
        bench.Instrument(Some.Taken(), Some.Taken());
        var running = bench.RunAsync(Token);
        await bench.ShownAsync<BenchUpdate.AllRead>();
        bench.BreakLink();
        bench.Press(new BenchCommand.Keep());
        Assert.Equal(SessionOutcome.Completed, (await running).Outcome);
    }

    [Fact]
    public async Task Step_taken_back_after_the_link_was_lost_fails_the_session_with_all_reads()
    {
        var bench = new ScriptedBench(new FakeTimeProvider(), TimeSpan.FromHours(1), reads: 1);
        bench.Instrument(Some.Taken(), Some.Taken());
        bench.BreakLink();
        var running = bench.RunAsync(Token);
        await bench.ShownAsync<BenchUpdate.AllRead>();
        bench.Press(new BenchCommand.Undo());
        var outcome = await running;
        Assert.IsType<LinkException>(outcome.Fault);
        Assert.Equal(2, outcome.Strip.ReadsTaken);
    }

    [Fact]
    public async Task Keep_ends_the_wait()
    {
        var bench = new ScriptedBench(new FakeTimeProvider(), TimeSpan.FromHours(1), reads: 1);
        bench.Instrument(Some.Taken(), Some.Taken());
        var running = bench.RunAsync(Token);
        await bench.ShownAsync<BenchUpdate.AllRead>();
        bench.Press(new BenchCommand.Keep());
        Assert.Equal(SessionOutcome.Completed, (await running).Outcome);
    }
}

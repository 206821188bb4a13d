using Acquire.Bench.Sessions;
using Acquire.Instruments.ProfileFiles;

namespace Acquire.Bench.Tests.Sessions;

/// <summary>Questions about readings that look like mistakes, in the loop: asked, answered by one key, taken back, rebuilt.</summary>
public class QuestionTests
{
    private static readonly string[] Exchanged = ["dmin", "ld", "dmax", "hd", "yellow"];
    private static readonly decimal[] InOrder = [0.27m, 0.47m, 1.27m, 2.13m, 0.38m];
    private static readonly decimal[] AsRead = [0.27m, 0.47m, 2.13m, 1.27m, 0.38m];

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Strip_without_a_mistake_is_not_asked_about()
    {
        var bench = Bench();
        bench.Instrument(AskedStrip.Taken("dmin", "ld", "hd", "dmax", "yellow"));
        var running = bench.RunAsync(Token);
        await bench.ShownAsync<BenchUpdate.AllRead>();
        bench.Press(new BenchCommand.Keep());
        Assert.Equal(SessionOutcome.Completed, (await running).Outcome);
        Assert.DoesNotContain(bench.Shown, u => u is BenchUpdate.Question or BenchUpdate.Attention);
        Assert.Empty(bench.Progress!.Questions.All);
    }

    [Fact]
    public async Task Accepted_exchange_gives_the_reads_to_the_right_patches_with_a_note()
    {
        var bench = Bench();
        var (running, question) = await ExchangedAsync(bench);
        Assert.Equal("These look like HD and D-max exchanged: reorder?", question.Text);
        Assert.Equal("move reads: D-max to HD, HD to D-max", question.Remedy);
        bench.Press(new BenchCommand.Yes());
        Assert.StartsWith("Done: move reads", (await bench.ShownAsync<BenchUpdate.Done>()).Message, StringComparison.Ordinal);
        await bench.ShownAsync<BenchUpdate.AllRead>();
        bench.Press(new BenchCommand.Keep());
        var strip = (await running).Strip;
        Assert.Equal(InOrder, AskedStrip.Reds(strip));
        Assert.Equal("read as D-max, moved to HD", strip.Patches[2].Reads[0].Note);
        Assert.Null(strip.Patches[0].Reads[0].Note);
        var kept = bench.Progress!.Questions.ToRecord(strip.Plan.Layout)[^1];
        Assert.Equal(("neutral_order", QuestionAnswer.Accepted), (kept.Kind, kept.Answer));
        Assert.NotNull(kept.AnsweredAt);
        Assert.True(kept.Evidence > 3);
    }

    [Fact]
    public async Task Dismissed_question_leaves_the_reads_and_is_not_asked_again()
    {
        var bench = Bench();
        var (running, _) = await ExchangedAsync(bench);
        var asked = 0;
        while (bench.Progress!.Questions.Open is not null)
        {
            bench.Press(new BenchCommand.No());
            await bench.ShownAsync<BenchUpdate.Done>();
            Assert.True(++asked < 5);
        }

        bench.Press(new BenchCommand.Keep());
        Assert.Equal(AsRead, AskedStrip.Reds((await running).Strip));
        Assert.Contains(bench.Progress.Questions.All, q => q is { Asked.Kind: "neutral_order", State: QuestionState.Dismissed });
        Assert.Equal(bench.Progress.Questions.All.Length, bench.Progress.Questions.All.DistinctBy(q => q.Asked.Key).Count());
    }

    [Fact]
    public async Task Strip_is_not_kept_while_a_question_is_open()
    {
        var time = new FakeTimeProvider(Some.Moment);
        var bench = Bench(time, TimeSpan.FromSeconds(5));
        var (running, _) = await ExchangedAsync(bench);
        bench.Press(new BenchCommand.Keep());
        Assert.Equal(BenchMessages.AnswerFirst, (await bench.ShownAsync<BenchUpdate.Done>()).Message);
        for (var i = 0; i < 20; i++)
        {
            time.Advance(TimeSpan.FromSeconds(5));
            await Task.Yield();
        }

        Assert.False(running.IsCompleted);
        bench.Press(new BenchCommand.Cancel());
        Assert.Equal(SessionOutcome.Cancelled, (await running).Outcome);
    }

    [Fact]
    public async Task Remedy_taken_back_gives_the_strip_as_it_was_and_the_question_again()
    {
        var bench = Bench();
        var (running, _) = await ExchangedAsync(bench);
        bench.Press(new BenchCommand.Yes());
        await bench.ShownAsync<BenchUpdate.AllRead>();
        bench.Press(new BenchCommand.Undo());
        Assert.Equal("These look like HD and D-max exchanged: reorder?", (await bench.ShownAsync<BenchUpdate.Question>()).Text);
        Assert.Equal(AsRead, AskedStrip.Reds(bench.Progress!.Strip));
        Assert.All(bench.Progress.Strip.Patches.SelectMany(p => p.Reads), r => Assert.Null(r.Note));
        bench.Press(new BenchCommand.Yes());
        await bench.ShownAsync<BenchUpdate.AllRead>();
        bench.Press(new BenchCommand.Keep());
        Assert.Equal(InOrder, AskedStrip.Reds((await running).Strip));
    }

    [Fact]
    public async Task Patch_read_twice_is_asked_about_at_once_and_comes_up_again()
    {
        var bench = Bench();
        bench.Instrument(AskedStrip.Taken("dmin", "dmin"));
        var running = bench.RunAsync(Token);
        var question = await bench.ShownAsync<BenchUpdate.Question>();
        Assert.Contains("LD reads like the previous patch, D-min, once more", question.Text, StringComparison.Ordinal);
        Assert.Equal("hd", question.Next!.Patch.Key);
        bench.Press(new BenchCommand.Yes());
        Assert.Equal("ld", (await bench.ShownAsync<BenchUpdate.Prompt>()).Target.Patch.Key);
        Assert.Equal("D-min was read in its place", bench.Progress!.Strip.Patches[1].Reads[0].Exclusion!.Reason);

        // The same mistake once more is asked about once more.
        bench.Instrument(AskedStrip.Taken("dmin", Some.Moment.AddMinutes(1)));
        await bench.ShownAsync<BenchUpdate.Question>();
        bench.Press(new BenchCommand.Cancel());
        await running;
    }

    [Fact]
    public async Task Going_on_reading_leaves_the_question_unanswered_until_all_is_read()
    {
        var bench = Bench();
        var running = bench.RunAsync(Token);
        bench.Instrument(AskedStrip.Taken("yellow", "dmax"));
        Assert.Contains("wrong end", (await bench.ShownAsync<BenchUpdate.Question>()).Text, StringComparison.Ordinal);
        bench.Instrument(
            AskedStrip.Taken("hd", Some.Moment.AddSeconds(20)),
            AskedStrip.Taken("ld", Some.Moment.AddSeconds(23)),
            AskedStrip.Taken("dmin", Some.Moment.AddSeconds(26)));
        while ((await bench.ShownAsync<BenchUpdate.Question>()).Next is not null)
        {
        }

        bench.Press(new BenchCommand.Yes());
        await bench.ShownAsync<BenchUpdate.AllRead>();
        bench.Press(new BenchCommand.Keep());
        Assert.Equal(InOrder, AskedStrip.Reds((await running).Strip));
    }

    [Fact]
    public async Task Without_a_keyboard_the_question_is_kept_and_nothing_is_changed()
    {
        var bench = new ScriptedBench { Plan = AskedStrip.Plan(), Questioner = AskedStrip.Questioner(atKeyboard: false) };
        bench.Instrument(AskedStrip.Taken(Exchanged));
        var outcome = await bench.RunAsync(Token);
        Assert.Equal(SessionOutcome.Completed, outcome.Outcome);
        Assert.Equal(AsRead, AskedStrip.Reds(outcome.Strip));
        var kept = bench.Progress!.Questions.ToRecord(outcome.Strip.Plan.Layout);
        Assert.Contains(kept, q => q.Kind == "neutral_order");
        Assert.All(kept, q => Assert.Equal((QuestionAnswer.Unanswered, null), (q.Answer, q.AnsweredAt)));
        Assert.All(kept, q => Assert.Contains(bench.Shown, u => u is BenchUpdate.Question { Text: var text } && text == q.Question));
    }

    /// <summary>A key that bounces; where nobody is at a keyboard, scripts may be as fast as they like.</summary>
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task Same_reading_faster_than_a_hand_is_asked_about_at_a_keyboard_only(bool atKeyboard)
    {
        var bench = new ScriptedBench(new FakeTimeProvider(Some.Moment), atKeyboard ? TimeSpan.FromHours(1) : null)
        {
            Plan = AskedStrip.Plan(2),
            Questioner = AskedStrip.Questioner(atKeyboard),
        };
        bench.Instrument(AskedStrip.Taken("dmin", Some.Moment), AskedStrip.Taken("dmin", Some.Moment.AddMilliseconds(200)));
        var running = bench.RunAsync(Token);
        if (atKeyboard)
        {
            Assert.Contains("triggered twice", (await bench.ShownAsync<BenchUpdate.Question>()).Text, StringComparison.Ordinal);
            bench.Press(new BenchCommand.Yes());
            var again = await bench.ShownAsync<BenchUpdate.Prompt>();
            Assert.Equal(("dmin", 2), (again.Target.Patch.Key, again.Target.Read));
        }
        else
        {
            await bench.ShownAsync<BenchUpdate.Accepted>();
            await bench.ShownAsync<BenchUpdate.Accepted>();
            Assert.Equal("ld", (await bench.ShownAsync<BenchUpdate.Prompt>()).Target.Patch.Key);
        }

        bench.Press(new BenchCommand.Cancel());
        await running;
        Assert.Equal(atKeyboard, bench.Shown.Any(u => u is BenchUpdate.Question));
    }

    [Fact]
    public async Task Answer_to_nothing_says_so()
    {
        var bench = Bench();
        var running = bench.RunAsync(Token);
        bench.Press(new BenchCommand.Yes());
        Assert.Equal(BenchMessages.NothingIsAsked, (await bench.ShownAsync<BenchUpdate.Done>()).Message);
        bench.Press(new BenchCommand.Cancel());
        await running;
        Assert.Empty(bench.Entries);
    }

    /// <summary>The journal alone gives strip and questions again: what was asked and done is in it, nothing is asked anew.</summary>
    [Fact]
    public async Task Session_is_rebuilt_with_its_questions_and_remedies()
    {
        var bench = Bench();
        var (running, _) = await ExchangedAsync(bench);
        bench.Press(new BenchCommand.Yes());
        await bench.ShownAsync<BenchUpdate.AllRead>();
        bench.Press(new BenchCommand.Keep());
        var outcome = await running;

        var entries =
            bench.Entries.Select(e => e.Event == JournalEvent.Received ? e with { Bytes = [.. e.Bytes, (byte)'\r', (byte)'\n'] } : e);
        var rebuilt = SessionProgress.Rebuild(AskedStrip.Plan(), new ProfileLibrary().Find("labelled-line"), entries);
        Assert.Equal(SessionText.Of(outcome.Strip, []), SessionText.Of(rebuilt.Strip, []));
        Assert.Equal(SessionText.Of(bench.Progress!.Questions), SessionText.Of(rebuilt.Questions));
        Assert.Contains(
            "\"remedy\":{\"do\":\"reorder_patches\",\"from\":[0,1,3,2,4]}",
            bench.Entries.Select(e => e.Decision).OfType<string>().Single(d => d.Contains("reorder", StringComparison.Ordinal)),
            StringComparison.Ordinal);
    }

    /// <summary>Broken off after the reading was kept and before the question was: it is asked when the session goes on.</summary>
    [Fact]
    public async Task Question_that_could_not_be_kept_is_asked_when_the_session_goes_on()
    {
        var bench = new ScriptedBench(new FakeTimeProvider(Some.Moment), TimeSpan.FromHours(1))
        {
            Plan = AskedStrip.Plan(),
            Questioner = AskedStrip.Questioner(),
            DecisionFault = new StoreException(StoreFault.DiskFull, "The disk is full."),
        };
        bench.Instrument(AskedStrip.Taken("dmin", "dmin"));
        var outcome = await bench.RunAsync(Token);
        Assert.True(outcome.MayGoOn);
        Assert.Empty(bench.Progress!.Questions.All);

        var again = new ScriptedBench(
            new FakeTimeProvider(Some.Moment), TimeSpan.FromHours(1)) { Progress = bench.Progress, Questioner = AskedStrip.Questioner() };
        var running = again.RunAsync(Token);
        Assert.Contains("once more", (await again.ShownAsync<BenchUpdate.Question>()).Text, StringComparison.Ordinal);
        again.Press(new BenchCommand.Cancel());
        await running;
    }

    private static ScriptedBench Bench(TimeProvider? time = null, TimeSpan? keepAfter = null) =>
        new(
            time ?? new FakeTimeProvider(Some.Moment),
            keepAfter ?? TimeSpan.FromHours(1)) { Plan = AskedStrip.Plan(), Questioner = AskedStrip.Questioner() };

    /// <summary>HD and D-max read in each other's place, and on to the question about the whole strip.</summary>
    private static async Task<(Task<GuidedOutcome> Running, BenchUpdate.Question Question)> ExchangedAsync(ScriptedBench bench)
    {
        bench.Instrument(AskedStrip.Taken(Exchanged));
        var running = bench.RunAsync(Token);
        while (true)
        {
            if (await bench.ShownAsync<BenchUpdate.Question>() is { Next: null } question)
            {
                return (running, question);
            }
        }
    }
}

using Acquire.Analysis.Control;
using Acquire.Analysis.Judgement;
using Acquire.Analysis.Statistics;
using Acquire.Analysis.Uncertainty;
using Acquire.Bench.Daily;
using Acquire.Bench.Trust;

namespace Acquire.Bench.Tests.Daily;

public class DailyBoardTests
{
    private static readonly CheckStanding NoCheck = new(null, "no calibration check was made with profile labelled yet");

    [Theory]
    [InlineData(StripSays.InControl, 13.9, null, StripSays.InControl, false)]
    [InlineData(StripSays.InControl, 14.1, null, StripSays.LookFirst, true)]
    [InlineData(StripSays.InControl, 3, 2.0, StripSays.LookFirst, true)]
    [InlineData(StripSays.InControl, 3, 3.0, StripSays.InControl, false)]
    [InlineData(StripSays.InControl, 3, 5.0, StripSays.InControl, false)]
    [InlineData(StripSays.InControl, 3, -1.0, StripSays.InControl, false)]
    [InlineData(StripSays.LookFirst, 3, null, StripSays.LookFirst, false)]
    [InlineData(StripSays.LookFirst, 20, null, StripSays.LookFirst, true)]
    [InlineData(StripSays.Stop, 1, null, StripSays.Stop, true)]
    [InlineData(StripSays.Stop, 200, 2.0, StripSays.Stop, true)]
    public void Line_follows_the_newest_strip_its_age_and_what_changed_since(
        StripSays strip, double ageDays, double? changedDaysAgo, StripSays expected, bool needsStrip)
    {
        var line = LineToday.Of(Line("dip tank", strip, ageDays, changedDaysAgo), Some.Moment);
        Assert.Equal((expected, needsStrip), (line.Says, line.NeedsStrip));
        Assert.EndsWith(".", line.Why, StringComparison.Ordinal);
    }

    [Fact]
    public void Change_is_named_with_its_day() => Assert.Equal(
        "no strip since dev 13 came into use (2026-11-23).", LineToday.Of(Line("dip tank", StripSays.InControl, 3, 2), Some.Moment).Why);

    [Fact]
    public void Line_without_a_strip_needs_one()
    {
        var line = LineToday.Of(new LineFacts("dip tank", "C-41", null, null, [], []), Some.Moment);
        Assert.Equal((StripSays.LookFirst, true, null), (line.Says, line.NeedsStrip, line.StripAge));
    }

    [Theory]
    [InlineData(new StripSays[0], "Not before a control strip", false)]
    [InlineData(new[] { StripSays.InControl }, "Yes, as far as the newest strip tells.", false)]
    [InlineData(new[] { StripSays.InControl, StripSays.InControl }, "Yes, as far as the newest strips tell.", false)]
    [InlineData(new[] { StripSays.LookFirst }, "Yes, after a control strip.", false)]
    [InlineData(new[] { StripSays.Stop }, "Not before a second strip: line 0 past a control limit.", true)]
    [InlineData(
        new[] { StripSays.InControl, StripSays.Stop },
        "Not in line 1 before a second strip; yes in line 0, as far as its newest strip tells.",
        true)]
    [InlineData(
        new[] { StripSays.LookFirst, StripSays.InControl },
        "Yes, after a control strip, in line 0; yes in line 1, as far as its newest strip tells.",
        false)]
    [InlineData(
        new[] { StripSays.InControl, StripSays.LookFirst, StripSays.Stop },
        "Not in line 2 before a second strip; yes, after a control strip, in line 1; yes in line 0",
        true)]
    public void Answer_begins_with_what_stops(StripSays[] lines, string answer, bool stops)
    {
        var board = DailyBoard.Of(new DailyFacts { Now = Some.Moment, Lines = [.. lines.Select((s, i) => Line($"line {i}", s, 2, null))] });
        Assert.StartsWith(answer, board.Answer, StringComparison.Ordinal);
        Assert.Equal(stops, board.Stops);
        Assert.DoesNotContain("safe", board.Answer, StringComparison.OrdinalIgnoreCase);
    }

    [Theory]
    [InlineData(0.001, "past a control limit.", "LD +0.091 past the control limit.")]
    [InlineData(0.2, "past a control limit, though not surely.", "LD +0.091 (not yet sure) past the control limit.")]
    public void Stop_says_whether_the_strip_as_a_whole_is_out(double inside, string answer, string why)
    {
        var limit = new Limit(-0.08, 0.08, "invented");
        var past = new ParameterResult
        {
            Parameter = new PatchParameter("ld", "LD", "speed", "ld", [Channel.Red], new ParameterLimits(null, limit)),
            Channel = Channel.Red,
            Deviation = 0.091,
            Zone = Zone.Out,
            Verdict = new VerdictResult(Verdicts.Of(inside), limit, inside, null, 0.95),
        };
        var facts = Line("dip tank", StripSays.Stop, 1, null) with
        {
            Answer = StripAnswer.Of(new StripJudgement([past], ImmutableDictionary<Channel, PooledDeviation>.Empty)),
        };
        var board = DailyBoard.Of(new DailyFacts { Now = Some.Moment, Lines = [facts] });

        Assert.True(board.Stops);
        Assert.EndsWith(answer, board.Answer, StringComparison.Ordinal);
        Assert.Equal(why, board.Lines[0].Why);
    }

    [Fact]
    public void Line_that_cannot_be_judged_is_no_yes()
    {
        var blind = Line("machine", StripSays.LookFirst, 1, null) with { Answer = new StripAnswer(StripSays.LookFirst, [], 0) };
        var board = DailyBoard.Of(new DailyFacts { Now = Some.Moment, Lines = [blind] });
        Assert.Equal("Not known: nothing on the newest strip of machine has both an aim and a limit.", board.Answer);
        Assert.StartsWith("machine: give the lot its aims", Assert.Single(board.ToDo), StringComparison.Ordinal);
        Assert.StartsWith(
            "Not known in machine; yes in dip tank",
            DailyBoard.Of(new DailyFacts { Now = Some.Moment, Lines = [blind, Line("dip tank", StripSays.InControl, 1, null)] }).Answer,
            StringComparison.Ordinal);
    }

    [Fact]
    public void To_do_goes_from_what_stops_to_what_can_wait()
    {
        var board = DailyBoard.Of(new DailyFacts
        {
            Now = Some.Moment,
            Lines = [Line("machine", StripSays.InControl, 30, null), Line("dip tank", StripSays.Stop, 1, null)],
            Instruments = [new InstrumentFacts("labelled", NoCheck, HasRepeatability: false)],
            Lots = [new LotFacts("2417", 5, 12), new LotFacts("2301", null, -1)],
            Unfinished = [("reading of lot 2417", "1a2b3c4d")],
        });
        string[] expected =
        [
            "dip tank: read the newest strip "
            + "again", "Finish the reading of lot 2417", "Check the densitometer: no calibration check", "machine: run a control strip",
            "Lot 2301 is past its expiry",
            "5 strips of lot 2417 left", "Lot 2417 expires in 12 days", "Find how well the densitometer repeats",
        ];
        Assert.Equal(expected.Length, board.ToDo.Length);
        Assert.All(expected.Zip(board.ToDo), p => Assert.StartsWith(p.First, p.Second, StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(6, 31, 0)]
    [InlineData(5, 31, 1)]
    [InlineData(0, 31, 1)]
    [InlineData(null, null, 0)]
    [InlineData(6, 30, 1)]
    [InlineData(6, 0, 1)]
    [InlineData(6, -1, 1)]
    public void Lots_are_told_when_few_or_old(int? left, int? days, int told) =>
        Assert.Equal(told, DailyBoard.Of(new DailyFacts { Now = Some.Moment, Lots = [new LotFacts("2417", left, days)] }).ToDo.Length);

    private static LineFacts Line(string name, StripSays says, double ageDays, double? changedDaysAgo) => new(
        name,
        "C-41",
        new StripPoint
        {
            StripId = Guid.CreateVersion7(Some.Moment),
            At = Some.Moment.AddDays(-ageDays),
            Lot = "2417",
            Judgement = new StripJudgement([], ImmutableDictionary<Channel, PooledDeviation>.Empty),
        },
        new StripAnswer(says, [], 11),
        changedDaysAgo is { } days ? [new ProcessChange("dev 13 came into use", Some.Moment.AddDays(-days))] : [],
        []);
}

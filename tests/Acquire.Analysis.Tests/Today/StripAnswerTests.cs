using Acquire.Analysis.Judgement;
using Acquire.Analysis.Statistics;
using Acquire.Analysis.Uncertainty;

namespace Acquire.Analysis.Tests.Today;

public class StripAnswerTests
{
    [Theory]
    [InlineData(true, Zone.Inside, Verdict.InControl, StripSays.InControl)]
    [InlineData(true, Zone.Inside, Verdict.Undecided, StripSays.LookFirst)]
    [InlineData(true, Zone.Action, Verdict.InControl, StripSays.LookFirst)]
    [InlineData(true, Zone.Action, Verdict.Undecided, StripSays.LookFirst)]
    [InlineData(true, Zone.Out, Verdict.Undecided, StripSays.Stop)]
    [InlineData(true, Zone.Out, Verdict.OutOfControl, StripSays.Stop)]
    [InlineData(false, Zone.Action, Verdict.OutOfControl, StripSays.LookFirst)]
    [InlineData(false, Zone.Inside, null, StripSays.InControl)]
    public void Worse_of_zone_and_verdict_rules(bool hasControl, Zone zone, Verdict? verdict, StripSays says)
    {
        var other = Result("dmin", true, Zone.Inside, Verdict.InControl);
        var asked = Result("ld", hasControl, zone, verdict);
        var answer = StripAnswer.Of(Judgement(other, asked));
        Assert.Equal((says, 2), (answer.Says, answer.Judged));
        Assert.Equal(says == StripSays.InControl ? [] : new[] { asked }, answer.Because);
    }

    /// <summary>Two of eleven at 1 % each: Holm asks 0.5 % of the first, so neither is out when all are asked.</summary>
    [Theory]
    [InlineData(0.001, false)]
    [InlineData(0.01, true)]
    public void Result_that_is_out_alone_and_not_among_all_is_not_sure(double inside, bool unsure)
    {
        var out_ = Result("ld", true, Zone.Out, Verdict.OutOfControl, inside);
        var answer = StripAnswer.Of(Judgement(
            [out_, .. Enumerable.Range(0, 10).Select(i => Result($"p{i}", true, Zone.Inside, Verdict.InControl, 0.99))]));
        Assert.Equal(StripSays.Stop, answer.Says);
        Assert.Equal(unsure, answer.IsUnsure(out_));
        Assert.Equal(unsure, answer.SurelyOut.IsEmpty);
    }

    [Fact]
    public void Strip_without_anything_judged_says_to_look()
    {
        var answer = StripAnswer.Of(Judgement(Result("ld", true, null, null)));
        Assert.Equal((StripSays.LookFirst, 0), (answer.Says, answer.Judged));
        Assert.Empty(answer.Because);
    }

    private static StripJudgement Judgement(params ParameterResult[] results) =>
        new([.. results], ImmutableDictionary<Channel, PooledDeviation>.Empty);

    private static ParameterResult Result(
        string key, bool hasControl, Zone? zone, Verdict? verdict, double inside = 0.5)
    {
        var action = new Limit(-0.06, 0.06, "invented");
        var control = new Limit(-0.08, 0.08, "invented");
        return new ParameterResult
        {
            Parameter = new PatchParameter(key, key, "speed", key, [Channel.Red], new ParameterLimits(action, hasControl ? control : null)),
            Channel = Channel.Red,
            Deviation = zone is null ? null : 0.05,
            Zone = zone,
            Verdict = verdict is { } v ? new VerdictResult(v, hasControl ? control : action, inside, null, 0.95) : null,
        };
    }
}

using Acquire.Analysis.Judgement;

namespace Acquire.Analysis.Tests.Judgement;

/// <summary>At, just inside and just past every limit of the shipped colour-negative sheet.</summary>
[Trait("Source", "Common practice, from memory: the limits of the colour-negative control strip")]
public class ZoneTests
{
    private const decimal Step = 0.001m;

    // Parameter, the patch that is moved, deviation at the limit, zone at the limit, zone just past it.
    public static TheoryData<string, string, decimal, Zone, Zone> Limits => new()
    {
        { "dmin", "dmin", 0.03m, Zone.Inside, Zone.Action },
        { "dmin", "dmin", 0.05m, Zone.Action, Zone.Out },
        { "ld", "ld", 0.06m, Zone.Inside, Zone.Action },
        { "ld", "ld", -0.06m, Zone.Inside, Zone.Action },
        { "ld", "ld", 0.08m, Zone.Action, Zone.Out },
        { "ld", "ld", -0.08m, Zone.Action, Zone.Out },
        { "contrast", "hd", 0.07m, Zone.Inside, Zone.Action },
        { "contrast", "hd", -0.07m, Zone.Inside, Zone.Action },
        { "contrast", "hd", 0.09m, Zone.Action, Zone.Out },
        { "contrast", "hd", -0.09m, Zone.Action, Zone.Out },
        { "silver", "dmax", 0.10m, Zone.Inside, Zone.Action },
        { "silver", "dmax", 0.12m, Zone.Action, Zone.Out },
        { "spread", "hd", 0.09m, Zone.Inside, Zone.Out },
    };

    [Theory]
    [MemberData(nameof(Limits))]
    public void Zone_changes_just_past_the_limit(string parameter, string patch, decimal limit, Zone at, Zone past)
    {
        var outward = Math.Sign(limit) * Step;

        Assert.Equal(at, ZoneOf(parameter, patch, limit - outward));
        Assert.Equal(at, ZoneOf(parameter, patch, limit));
        Assert.Equal(past, ZoneOf(parameter, patch, limit + outward));
    }

    [Theory]
    [InlineData("dmin", "dmin")]
    [InlineData("silver", "dmax")]
    public void One_sided_limit_lets_any_lower_value_pass(string parameter, string patch) =>
        Assert.Equal(Zone.Inside, ZoneOf(parameter, patch, -0.2m));

    private static Zone? ZoneOf(string parameter, string patch, decimal move)
    {
        var judgement = StripJudge.Judge(Some.Strip(Some.Patches(Some.Moved((patch, 0, 0, move)))));
        return judgement.Result(parameter, parameter == "spread" ? null : Channel.Blue).Zone;
    }
}

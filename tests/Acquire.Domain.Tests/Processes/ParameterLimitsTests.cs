using static Acquire.Domain.Tests.Assertions;

namespace Acquire.Domain.Tests.Processes;

public class ParameterLimitsTests
{
    private static readonly Limit Narrow = new(-0.06, 0.06, "house");
    private static readonly Limit Wide = new(-0.08, 0.08, "house");
    private static readonly Limit Up = new(null, 0.03, "house");

    [Theory]
    [InlineData(0, Zone.Inside)]
    [InlineData(0.06, Zone.Inside)]
    [InlineData(-0.06, Zone.Inside)]
    [InlineData(0.061, Zone.Action)]
    [InlineData(-0.08, Zone.Action)]
    [InlineData(0.081, Zone.Out)]
    [InlineData(-0.5, Zone.Out)]
    public void Zone_is_by_plain_comparison(double deviation, Zone zone) =>
        Assert.Equal(zone, new ParameterLimits(Narrow, Wide).ZoneOf(deviation));

    [Fact]
    public void Zone_without_limits_is_unknown() => Assert.Null(ParameterLimits.None.ZoneOf(0));

    [Fact]
    public void Zone_with_one_limit_has_two_states()
    {
        Assert.Equal(
            (Zone.Inside, Zone.Action), (new ParameterLimits(Narrow, null).ZoneOf(0.06), new ParameterLimits(Narrow, null).ZoneOf(9)));
        Assert.Equal((Zone.Inside, Zone.Out), (new ParameterLimits(null, Wide).ZoneOf(0.08), new ParameterLimits(null, Wide).ZoneOf(0.09)));
    }

    [Fact]
    public void Zone_never_improves_farther_from_the_aim() => Gen.Select(Gen.Double[0, 0.2], Gen.Double[0, 0.2], Gen.Bool)
        .Sample((a, b, below) =>
    {
        var limits = new ParameterLimits(Narrow, Wide);
        var sign = below ? -1 : 1;
        return limits.ZoneOf(sign * Math.Min(a, b)) <= limits.ZoneOf(sign * Math.Max(a, b));
    });

    [Fact]
    public void Control_limit_inside_the_action_limit_is_refused()
    {
        Refused("The control limit ±0.06 lies inside the action limit ±0.08.", () => new ParameterLimits(Wide, Narrow));
        Refused("lies inside", () => new ParameterLimits(Narrow, Up));
        Refused("lies inside", () => new ParameterLimits(Up, Narrow));
    }

    [Fact]
    public void Control_limit_equal_to_or_one_sided_beyond_the_action_limit_is_accepted()
    {
        Assert.Equal(Zone.Out, new ParameterLimits(Narrow, Narrow).ZoneOf(0.07));
        Assert.Equal(Zone.Action, new ParameterLimits(Narrow, new Limit(null, 0.08, "house")).ZoneOf(-0.5));
    }
}

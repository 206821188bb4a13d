using static Acquire.Domain.Tests.Assertions;

namespace Acquire.Domain.Tests.Processes;

public class LimitTests
{
    [Fact]
    public void Deviation_on_the_limit_is_inside_in_binary_arithmetic_too()
    {
        Assert.True(1.32 - 1.26 > 0.06);
        Assert.True(Some.Limit.Holds(1.32 - 1.26));
        Assert.True(Some.Limit.Holds(1.26 - 1.32));
    }

    [Theory]
    [InlineData(0.0601, false)]
    [InlineData(0.0599, true)]
    [InlineData(-0.0601, false)]
    [InlineData(0.06000001, false)]
    [InlineData(double.NaN, false)]
    public void Two_sided_limit_holds_what_is_between(double deviation, bool holds) => Assert.Equal(holds, Some.Limit.Holds(deviation));

    [Fact]
    public void One_sided_limit_holds_everything_on_its_open_side() => Gen.Double[-5, 0.03].Sample(d =>
        new Limit(null, 0.03, "house").Holds(d) && new Limit(-0.03, null, "house").Holds(-d));

    [Theory]
    [InlineData(-0.06, 0.06, "±0.06")]
    [InlineData(null, 0.03, "+0.03")]
    [InlineData(-0.1, null, "-0.10")]
    [InlineData(-0.05, 0.08, "-0.05 … +0.08")]
    [InlineData(-0.0125, 0.0125, "±0.0125")]
    public void Limit_is_written_as_the_trade_writes_it(double? lower, double? upper, string text) =>
        Assert.Equal(text, new Limit(lower, upper, "house").ToString());

    [Fact]
    public void Impossible_limit_is_refused()
    {
        Refused("a lower or an upper side", () => new Limit(null, null, "house"));
        Refused("finite", () => new Limit(double.NaN, null, "house"));
        Refused("finite", () => new Limit(null, double.PositiveInfinity, "house"));
        Refused("holds the aim", () => new Limit(0.01, 0.05, "house"));
        Refused("holds the aim", () => new Limit(null, -0.05, "house"));
        Refused("source", () => new Limit(-1, 1, ""));
    }
}

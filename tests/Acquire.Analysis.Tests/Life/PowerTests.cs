using Acquire.Analysis.Life;

namespace Acquire.Analysis.Tests.Life;

public class PowerTests
{
    [Theory]
    [Trait("Source", "J. Cohen, Statistical Power Analysis, 1988, table 2.4.1: two groups, 5 % two-sided, power 0.80; value from memory")]
    [InlineData(0.2, 393)]
    [InlineData(0.5, 64)]
    [InlineData(0.8, 26)]
    public void Strips_of_each_method_are_those_of_the_table(double difference, int strips) =>
        Assert.InRange(Power.StripsOfEach(difference, 1)!.Value, strips, strips + 1);

    [Fact]
    public void A_difference_beyond_reach_takes_no_number_of_strips() => Assert.Null(Power.StripsOfEach(0.001, 1));
}

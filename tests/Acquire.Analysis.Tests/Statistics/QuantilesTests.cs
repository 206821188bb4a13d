using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Tests.Statistics;

public class QuantilesTests
{
    [Theory]
    [InlineData(0.95, 1, 12.71)]
    [InlineData(0.95, 20, 2.09)]
    [InlineData(0.90, 20, 1.72)]
    [InlineData(0.99, 11, 3.11)]
    [InlineData(0.6827, 1, 1.84)]
    [InlineData(0.9973, 5, 5.51)]
    [InlineData(0.9545, double.PositiveInfinity, 2.00)]
    [Trait("Source", "GUM (JCGM 100:2008), table G.2")]
    public void Student_quantile_is_that_of_the_published_table(double coverage, double freedom, double expected) =>
        Assert.Equal(expected, Quantiles.Student((1 + coverage) / 2, freedom), 0.005);

    [Theory]
    [InlineData(0.95, 9, 40, 2.124)]
    [InlineData(0.975, 9, 40, 2.452)]
    [Trait("Source", "GUM (JCGM 100:2008), H.5.2.2: critical F of 9 and 40 degrees of freedom")]
    public void Fisher_quantile_is_that_of_the_guide(double probability, int numerator, int denominator, double expected) =>
        Assert.Equal(expected, Quantiles.Fisher(probability, numerator, denominator), 0.0005);

    [Fact]
    [Trait("Source", "Tables of F at 1 and 1 degrees of freedom (value from memory): 161.45, 647.79, 4052.2")]
    public void Fisher_quantile_of_few_degrees_of_freedom_is_found_far_out()
    {
        Assert.Equal(161.45, Quantiles.Fisher(0.95, 1, 1), 0.005);
        Assert.Equal(647.79, Quantiles.Fisher(0.975, 1, 1), 0.005);
        Assert.Equal(4052.2, Quantiles.Fisher(0.99, 1, 1), 0.05);
    }

    [Fact]
    public void Quantile_and_tail_are_each_others_inverse() =>
        Gen.Select(Gen.Double[0.501, 0.9995], Gen.Int[1, 300], Gen.Int[1, 300]).Sample((probability, first, second) =>
        {
            Assert.Equal(1 - probability, Quantiles.FisherTail(Quantiles.Fisher(probability, first, second), first, second), 1e-10);
            Assert.Equal(2 * (1 - probability), Quantiles.StudentTail(Quantiles.Student(probability, first), first), 1e-10);
            Assert.Equal(1 - probability, Quantiles.ChiSquareTail(Quantiles.ChiSquare(probability, first), first), 1e-8);
            Assert.Equal(Quantiles.Student(probability, first), -Quantiles.Student(1 - probability, first), 1e-6);
        });
}

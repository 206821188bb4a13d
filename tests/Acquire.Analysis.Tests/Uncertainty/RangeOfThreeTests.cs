using Acquire.Analysis.Tests.Statistics;
using Acquire.Analysis.Uncertainty;

namespace Acquire.Analysis.Tests.Uncertainty;

public class RangeOfThreeTests
{
    [Theory]
    [Trait("Source", "Studentized range with infinite degrees of freedom, three means: upper 5 % point 3.314, 1 % point 4.120 (E. S. "
        + "Pearson and H. O. Hartley, Biometrika Tables; from memory)")]
    [InlineData(3.314, 0.95, 5e-5)]
    [InlineData(4.120, 0.99, 5e-5)]
    public void Range_of_three_equal_normals_has_the_tabled_points(double width, double probability, double tolerance) =>
        Assert.Equal(probability, RangeOfThree.Probability(width, [0, 0, 0], [1, 1, 1]), tolerance);

    [Fact]
    public void Range_agrees_with_drawn_numbers()
    {
        var random = new Random(11);
        double[] m = [0.02, -0.03, 0.04];
        double[] s = [0.008, 0.015, 0.011];
        const int Draws = 200_000;
        var within = 0;
        for (var i = 0; i < Draws; i++)
        {
            double[] x = [m[0] + (s[0] * random.Normal()), m[1] + (s[1] * random.Normal()), m[2] + (s[2] * random.Normal())];
            within += x.Max() - x.Min() <= 0.08 ? 1 : 0;
        }

        Assert.Equal(within / (double)Draws, RangeOfThree.Probability(0.08, m, s), 0.004);
    }

    [Theory]
    [InlineData(0, 0.01, 0.01)]
    [InlineData(0, 0, 0.01)]
    [InlineData(0.01, 0, 0.02)]
    public void Known_number_is_the_limit_of_one_that_hardly_scatters(double a, double b, double c)
    {
        double[] s = [a, b, c];
        var nearly = s.Select(d => d == 0 ? 1e-5 : d).ToArray();

        Assert.Equal(
            RangeOfThree.Probability(0.05, [0.01, 0.03, -0.01], nearly), RangeOfThree.Probability(0.05, [0.01, 0.03, -0.01], s), 1e-3);
    }

    [Fact]
    public void Probability_rises_with_the_width_and_does_not_mind_the_order() =>
        Gen.Select(Gen.Double[0, 0.2], Gen.Double[0, 0.2], Gen.Double[-0.1, 0.1].Array[3], Gen.Double[0.001, 0.05].Array[3])
            .Sample((w, v, m, s) =>
        {
            var (low, high) = (RangeOfThree.Probability(Math.Min(w, v), m, s), RangeOfThree.Probability(Math.Max(w, v), m, s));
            Assert.True(low <= high + 1e-9 && low >= 0 && high <= 1);
            Assert.Equal(low, RangeOfThree.Probability(Math.Min(w, v), [m[2], m[0], m[1]], [s[2], s[0], s[1]]), 1e-7);
        }, iter: 300);

    [Fact]
    public void Three_known_numbers_are_compared_plainly()
    {
        Assert.Equal(1, RangeOfThree.Probability(0.09, [0.02, 0.08, -0.01], [0, 0, 0]));
        Assert.Equal(0, RangeOfThree.Probability(0.08, [0.02, 0.08, -0.01], [0, 0, 0]));
    }
}

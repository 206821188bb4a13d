using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Tests.Statistics;

public class StraightLineTests
{
    /// <summary>Ozone monitors against a standard, NIST.</summary>
    internal static (double X, double Y)[] Norris { get; } =
    [
        (0.2, 0.1), (337.4, 338.8), (118.2, 118.1), (884.6, 888.0), (10.1, 9.2), (226.5, 228.1),
        (666.3, 668.5), (996.3, 998.5), (448.6, 449.1), (777.0, 778.9), (558.2, 559.2), (0.4, 0.3),
        (0.6, 0.1), (775.5, 778.1), (666.9, 668.8), (338.0, 339.3), (447.5, 448.9), (11.6, 10.8),
        (556.0, 557.7), (228.1, 228.3), (995.8, 998.0), (887.6, 888.8), (120.2, 119.6), (0.3, 0.3),
        (0.3, 0.6), (556.8, 557.6), (339.1, 339.3), (887.2, 888.0), (999.0, 998.5), (779.0, 778.9),
        (11.1, 10.2), (118.3, 117.6), (229.2, 228.9), (669.1, 668.4), (448.9, 449.2), (0.5, 0.2),
    ];

    [Fact]
    [Trait("Source", "NIST Statistical Reference Datasets, linear regression, Norris, certified values")]
    public void Line_through_the_reference_set_has_the_certified_values()
    {
        var line = StraightLine.Of(Norris)!;

        Assert.Equal(-0.262323073774029, line.Zero, 1e-11);
        Assert.Equal(1.00211681802045, line.Slope, 1e-13);
    }

    [Fact]
    [Trait("Source", "The normal equations by hand: x 0, 1, 2, 3 and y 1, 3, 4, 8 give slope 2.2 and zero 0.7")]
    public void Line_through_four_points_is_that_of_the_normal_equations()
    {
        var line = StraightLine.Of([(0, 1), (1, 3), (2, 4), (3, 8)])!;

        Assert.Equal((2.2, 0.7), (Math.Round(line.Slope, 12), Math.Round(line.Zero, 12)));
    }

    [Fact]
    public void Line_without_scatter_comes_back() =>
        Gen.Select(Gen.Double[-5, 5], Gen.Double[-5, 5], Gen.Int[3, 12]).Sample((zero, slope, n) =>
        {
            var line = StraightLine.Of([.. Enumerable.Range(0, n).Select(i => (i * 0.3, zero + (slope * i * 0.3)))])!;
            Assert.Equal(zero, line.Zero, 1e-9);
            Assert.Equal(slope, line.Slope, 1e-9);
        });

    [Fact]
    public void Line_of_too_few_or_equal_places_is_none()
    {
        Assert.Null(StraightLine.Of([(0, 1), (1, 2)]));
        Assert.Null(StraightLine.Of([(1, 1), (1, 2), (1, 3)]));
    }
}

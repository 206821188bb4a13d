using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Tests.Regression;

public class InversePredictionTests
{
    private static readonly (double X, double Y)[] Thermostat =
        Pairs([96, 98, 100, 102, 104, 106, 108, 110], [95.71, 98.16, 99.52, 102.09, 103.79, 106.18, 108.14, 110.21]);

    private static readonly (double X, double Y)[] Crystal = Pairs(
        [2, 4, 6, 8, 10, 12, 14, 16, 18, 20, 22, 24, 26, 28],
        [0.08, 1.12, 4.43, 4.98, 4.92, 7.18, 5.57, 8.40, 8.81, 10.81, 11.16, 10.12, 13.12, 15.04]);

    private static readonly (double X, double Y)[] Massart = Pairs([0, 10, 20, 30, 40, 50], [4.0, 21.2, 44.6, 61.8, 78.0, 105.2]);

    private static readonly (double X, double Y)[] Arsenic =
    [
        .. new[]
        {
            [0.17, 0.25, 0.01, 0.12], [1.25, 0.86, 1.25, 1.10], [2.01, 2.03, 2.14, 1.74], [3.18, 2.99, 3.23, 3.37],
            [3.91, 3.90, 3.61, 4.27], [4.88, 5.33, 4.96, 4.98], [6.09, 6.17, 6.07, 5.97], new[] { 6.67, 7.02, 7.14, 7.30 },
        }.SelectMany((ys, x) => ys.Select(y => ((double)x, y))),
    ];

    [Theory]
    [Trait("Source", "F. A. Graybill and H. K. Iyer, Regression Analysis, 1994, p. 431 (thermostat) and 434 (crystal), as shipped with "
        + "R package investr; digits recomputed")]
    [InlineData(104, 0.95, 103.994916, 103.404051, 104.589459)]
    [InlineData(100, 0.90, 100.112318, 99.629403, 100.588503)]
    public void Thermostat_reading_is_inverted_as_published(double reading, double confidence, double estimate, double lower, double upper)
    {
        var found = InversePrediction.Of(Thermostat, reading, 1, confidence);

        Assert.Equal((estimate, lower, upper), (Math.Round(found.Estimate, 6), Math.Round(found.Lower, 6), Math.Round(found.Upper, 6)));
        Assert.Equal(RatioKind.Bounded, found.Kind);
    }

    [Fact]
    [Trait("Source", "Graybill and Iyer p. 431: g of the thermostat, recomputed")]
    public void G_tells_how_well_the_slope_is_known() => Assert.Equal(0.0018456, InversePrediction.Of(Thermostat, 104, 1).G, 5e-8);

    [Fact]
    [Trait("Source", "Graybill and Iyer p. 434: mean response 5 at 90 %; R package investr prints both standard errors")]
    public void Mean_response_of_the_crystals_is_inverted_as_published()
    {
        var found = InversePrediction.Of(Crystal, 5, null, 0.90);

        Assert.Equal(
            (9.929058, 8.650259, 11.047897), (Math.Round(found.Estimate, 6), Math.Round(found.Lower, 6), Math.Round(found.Upper, 6)));
        Assert.Equal(2.211698, InversePrediction.StandardError(Crystal, 5, 1), 1e-6);
        Assert.Equal(0.6658998, InversePrediction.StandardError(Crystal, 5, null), 5e-8);
    }

    [Theory]
    [Trait("Source", "D. L. Massart et al., Handbook of Chemometrics and Qualimetrics A, 1997, example 7, as quoted by R package "
        + "chemCal; digits recomputed")]
    [InlineData(15, 1, 6.093810, 4.906751)]
    [InlineData(90, 1, 43.939831, 4.908053)]
    [InlineData(90, 5, 43.939831, 3.168489)]
    public void Calibration_line_is_inverted_as_published(double reading, int readings, double estimate, double margin)
    {
        var t = 2.7764451051977934; // Student's t, 0.975, 4 degrees of freedom

        Assert.Equal(estimate, InversePrediction.Of(Massart, reading, readings).Estimate, 5e-7);
        Assert.Equal(margin, t * InversePrediction.StandardError(Massart, reading, readings), 5e-7);
    }

    [Fact]
    [Trait("Source", "Arsenic data of R package investr; digits recomputed")]
    public void Repeated_readings_are_inverted()
    {
        var found = InversePrediction.Of(Arsenic, 3, 1);

        Assert.Equal(
            (2.931449, 2.536740, 3.325140), (Math.Round(found.Estimate, 6), Math.Round(found.Lower, 6), Math.Round(found.Upper, 6)));
        Assert.Equal(0.192934, InversePrediction.StandardError(Arsenic, 3, 1), 5e-7);
    }

    [Fact]
    public void Line_that_may_be_level_has_no_bounded_interval()
    {
        var found = InversePrediction.Of(Pairs([0, 1, 2, 3, 4], [0.01, -0.02, 0.02, 0.00, 0.01]), 0.07, null);

        Assert.True(found.G >= 1);
        Assert.NotEqual(RatioKind.Bounded, found.Kind);
    }

    [Fact]
    public void Two_points_are_refused() => Assert.Throws<ModelException>(() => InversePrediction.Of([(0, 0), (1, 1)], 0.5, null));

    /// <summary>The ends of an interval are where the test of the ratio just fails.</summary>
    [Fact]
    public void Ends_of_a_ratio_interval_solve_its_equation() =>
        CsCheck.Check.Sample(
            CsCheck.Gen.Select(
                CsCheck.Gen.Double[-5, 5],
                CsCheck.Gen.Double[0.2, 5],
                CsCheck.Gen.Double[0.01, 1],
                CsCheck.Gen.Double[0.001, 0.2],
                CsCheck.Gen.Double[-0.9, 0.9]),
            (n, d, vn, vd, r) =>
            {
                var cov = r * Math.Sqrt(vn * vd);
                var interval = RatioInterval.Of(n, d, vn, vd, cov, 2);
                foreach (var end in interval.Kind == RatioKind.Everything ? [] : new[] { interval.Lower, interval.Upper })
                {
                    var (gap, variance) = (n - (end * d), vn - (2 * end * cov) + (end * end * vd));
                    Assert.Equal(0, (gap * gap) - (4 * variance), 1e-6 * (1 + (end * end)) * (1 + (gap * gap)));
                }
            });

    private static (double X, double Y)[] Pairs(double[] x, double[] y) => [.. x.Zip(y)];
}

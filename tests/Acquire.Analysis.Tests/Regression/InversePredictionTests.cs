using Acquire.Analysis.Statistics;
using Acquire.Analysis.Tests.Statistics;

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
        var found = Of(Thermostat, reading, confidence).OneReading;

        Assert.Equal((estimate, lower, upper), (Math.Round(found.Estimate, 6), Math.Round(found.Lower, 6), Math.Round(found.Upper, 6)));
        Assert.Equal(RatioKind.Bounded, found.Kind);
    }

    [Fact]
    [Trait("Source", "Graybill and Iyer p. 431: g of the thermostat, recomputed")]
    public void G_tells_how_well_the_slope_is_known() => Assert.Equal(0.0018456, Of(Thermostat, 104).OneReading.G, 5e-8);

    [Fact]
    [Trait("Source", "Graybill and Iyer p. 434: mean response 5 at 90 %; R package investr prints both standard errors")]
    public void Mean_response_of_the_crystals_is_inverted_as_published()
    {
        var found = Of(Crystal, 5, 0.90).Mean;

        Assert.Equal(
            (9.929058, 8.650259, 11.047897), (Math.Round(found.Estimate, 6), Math.Round(found.Lower, 6), Math.Round(found.Upper, 6)));
        Assert.Equal(2.211698, Of(Crystal, 5).SingleError, 1e-6);
        Assert.Equal(0.6658998, Of(Crystal, 5).MeanError, 5e-8);
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

        Assert.Equal(estimate, Of(Massart, reading, readings: readings).OneReading.Estimate, 5e-7);
        Assert.Equal(margin, t * Of(Massart, reading, readings: readings).SingleError, 5e-7);
    }

    [Fact]
    [Trait("Source", "Arsenic data of R package investr; digits recomputed")]
    public void Repeated_readings_are_inverted()
    {
        var found = Of(Arsenic, 3).OneReading;

        Assert.Equal(
            (2.931449, 2.536740, 3.325140), (Math.Round(found.Estimate, 6), Math.Round(found.Lower, 6), Math.Round(found.Upper, 6)));
        Assert.Equal(0.192934, Of(Arsenic, 3).SingleError, 5e-7);
    }

    [Fact]
    public void Line_that_may_be_level_has_no_bounded_interval()
    {
        var found = Of(Pairs([0, 1, 2, 3, 4], [0.01, -0.02, 0.02, 0.00, 0.01]), 0.07).Mean;

        Assert.True(found.G >= 1);
        Assert.NotEqual(RatioKind.Bounded, found.Kind);
    }

    [Fact]
    public void Two_points_tell_nothing_of_the_scatter() =>
        Assert.Null(InversePrediction.Of(StudiedLine.Of([(0, 0), (1, 1)]), 0.5));

    [Fact]
    public void Place_beyond_the_points_is_called_so()
    {
        Assert.True(Of(Massart, 130).IsBeyond);
        Assert.False(Of(Massart, 90).IsBeyond);
        Assert.True(Predicted(Massart, 60, 1).IsBeyond);
    }

    /// <summary>The ends of the mean's interval in x are where the band of the mean in y passes the value; of one reading alike.</summary>
    [Theory]
    [InlineData(1)]
    [InlineData(5)]
    public void Inverse_prediction_inverts_prediction(int readings)
    {
        var found = Of(Massart, 60, readings: readings);
        foreach (var (interval, error) in new (RatioInterval, Func<LinePrediction, double>)[]
            { (found.Mean, p => p.MeanError), (found.OneReading, p => p.SingleError) })
        {
            foreach (var x in new[] { interval.Lower, interval.Upper })
            {
                var there = Predicted(Massart, x, readings);
                Assert.Equal(there.Factor * error(there), Math.Abs(there.Value - 60), 1e-8);
            }
        }
    }

    [Fact]
    [Trait("Source", "NIST Statistical Reference Datasets, linear regression, Norris: certified B0 −0.262323073774029 with standard "
        + "deviation "
        + "0.232818234301152; the prediction at 0 is the intercept with its standard deviation")]
    public void Prediction_at_zero_of_the_reference_set_is_its_intercept()
    {
        var line = StudiedLine.Of(StraightLineTests.Norris);
        var at = LinePrediction.At(line, 0)!;

        Assert.Equal(-0.262323073774029, at.Value, 1e-11);
        Assert.Equal(0.232818234301152, at.MeanError, 1e-11);
        Assert.Equal(Math.Sqrt((0.232818234301152 * 0.232818234301152) + (0.884796396144373 * 0.884796396144373)), at.SingleError, 1e-10);
    }

    [Fact]
    public void Covariance_of_the_coefficients_is_minus_the_middle_times_the_variance_of_the_slope()
    {
        var line = StudiedLine.Of(Massart);

        Assert.Equal(-25 * Math.Pow(line.Model.StandardError(1)!.Value, 2), line.Covariance!.Value, 1e-10);
    }

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

    private static InversePrediction Of((double X, double Y)[] points, double y, double confidence = 0.95, int readings = 1) =>
        InversePrediction.Of(StudiedLine.Of(points), y, readings, confidence)!;

    private static LinePrediction Predicted((double X, double Y)[] points, double x, int readings) =>
        LinePrediction.At(StudiedLine.Of(points), x, readings)!;

    private static (double X, double Y)[] Pairs(double[] x, double[] y) => [.. x.Zip(y)];
}

using Acquire.Analysis.Gauge;
using Acquire.Analysis.Statistics;
using Acquire.Analysis.Tests.Statistics;
using MathNet.Numerics.Distributions;

namespace Acquire.Analysis.Tests.Gauge;

/// <summary>Zero and slope of a calibration check hold scatter, display step and certificate.</summary>
[Trait("speed", "slow")]
public class PlaqueLineTests
{
    private const int Runs = 4000;

    private static readonly double[] Densities = [0, 1.5, 3];

    [Fact]
    [Trait("Source", "By hand: places 0, 1.5, 3 have zero factors 5/6, 1/3, −1/6 and slope factors ∓1/3; a certificate that errs alike "
        + "everywhere is whole in the zero (GUM 5.1.2, 5.2)")]
    public void Interval_of_readings_on_a_perfect_line_holds_scatter_and_certificate()
    {
        var red = Check([0, 1.5, 3], 0.005, reads: 1, known: new PooledDeviation(0.004, 30));

        Assert.Equal((0, 1), (Math.Round(red.Zero.Value, 9) + 0.0, Math.Round(red.Slope!.Value.Value, 9)));
        var (scatter, certificate) = (30.0 / 36 * 16e-6, 25e-6);
        var freedom = Math.Floor(Math.Pow(scatter + certificate, 2) / (scatter * scatter) * 30);
        Assert.Equal(StudentT.InvCDF(0, 1, freedom, 0.975) * Math.Sqrt(scatter + certificate), red.Zero.High, 1e-6);
        (scatter, certificate) = (2.0 / 9 * 16e-6, 2.0 / 9 * 25e-6);
        freedom = Math.Floor(Math.Pow(scatter + certificate, 2) / (scatter * scatter) * 30);
        Assert.Equal(StudentT.InvCDF(0, 1, freedom, 0.975) * Math.Sqrt(scatter + certificate), red.Slope.Value.High - 1, 1e-6);
    }

    [Fact]
    [Trait(
        "Source",
        "By hand: equal repeats at a step of 0.01 leave the step's 0.01²/12 in each patch, once however many reads (GUM F.2.2.1)")]
    public void Interval_of_equal_repeats_holds_the_display_step_once()
    {
        var (few, many) = (Check([0, 1.5, 3], 0, reads: 2, decimals: 2), Check([0, 1.5, 3], 0, reads: 9, decimals: 2));

        Assert.Equal(1.959964 * Math.Sqrt(30.0 / 36 * 1e-4 / 12), few.Zero.High, 1e-8);
        Assert.Equal(1.959964 * Math.Sqrt(2.0 / 9 * 1e-4 / 12), few.Slope!.Value.High - 1, 1e-8);
        Assert.Equal((few.Zero, few.Slope), (many.Zero, many.Slope));
    }

    [Fact]
    public void Scatter_of_the_repeatability_test_counts_beside_equal_repeats()
    {
        var (alone, tested) = (Check([0, 1.5, 3], 0, 2), Check([0, 1.5, 3], 0, 2, new PooledDeviation(0.01, 40)));

        Assert.True(tested.Zero.High > 3 * alone.Zero.High, $"{tested.Zero.High} is not much above {alone.Zero.High}");
    }

    [Fact]
    public void Readings_farther_from_a_line_than_explained_widen_the_interval_and_are_said_to()
    {
        var known = new PooledDeviation(0.001, 40);
        var (straight, bent) = (Report([0, 1.5, 3], 0.002, 2, known), Report([0, 1.53, 3], 0.002, 2, known));

        Assert.DoesNotContain(straight.Notes, n => n.Contains("straight line", StringComparison.Ordinal));
        Assert.Contains(bent.Notes, n => n.StartsWith("red: the readings lie farther from a straight line", StringComparison.Ordinal));
        Assert.True(
            bent.Channels[0].Slope!.Value.High - bent.Channels[0].Slope!.Value.Low > 10 * (straight.Channels[0].Slope!.Value.High - 1));
    }

    /// <summary>Scatter known from twenty reads, a display step of 0.001, and a certificate whose errors are each patch's own.</summary>
    [Theory]
    [InlineData(3, 0.004, 0.005)]
    [InlineData(5, 0.004, 0.005)]
    [InlineData(5, 0.006, 0.002)]
    [InlineData(5, 0.0001, 0.003)]
    [Trait("Source", "Simulation with known zero and slope: 95 % intervals hold them as often as they promise")]
    public void Intervals_hold_the_truth_as_often_as_they_promise(int patches, double sigma, double certificate)
    {
        var (zero, slope) = Coverage(patches, sigma, certificate, shared: false);

        Assert.InRange(slope, 0.935, 0.97);
        Assert.InRange(zero, 0.935, 0.995);
    }

    [Theory]
    [InlineData(3, 0.004, 0.005)]
    [InlineData(5, 0.006, 0.002)]
    [InlineData(5, 0.001, 0.010)]
    [Trait(
        "Source",
        "Simulation with a certificate whose error is the same in all patches: the zero is held as often as promised, the slope more "
        + "often")]
    public void Intervals_hold_the_truth_where_the_certificate_errs_alike_everywhere(int patches, double sigma, double certificate)
    {
        var (zero, slope) = Coverage(patches, sigma, certificate, shared: true);

        Assert.InRange(zero, 0.935, 0.97);
        Assert.True(slope >= 0.935);
    }

    private static (double Zero, double Slope) Coverage(int patches, double sigma, double certificate, bool shared)
    {
        var random = new Random(29);
        double[] truth = [.. Enumerable.Range(0, patches).Select(i => 3.0 * i / (patches - 1))];
        var held = (Zero: 0, Slope: 0);
        for (var run = 0; run < Runs; run++)
        {
            var test = Math.Sqrt(Enumerable.Range(0, 19).Sum(_ => Math.Pow(sigma * random.Normal(), 2)) / 19);
            var common = random.Normal();
            double[] certified = [.. truth.Select(t => t + (certificate * (shared ? common : random.Normal())))];
            var reads = truth.SelectMany((t, i) => Enumerable.Range(1, 2).Select(n =>
                PublishedReads.Red($"{i}", n, Math.Round((decimal)(0.03 + (1.01 * t) + (sigma * random.Normal())), 3))));
            var plaque = PublishedReads.Plaque(certified.Select(c => Math.Round((decimal)c, 6)), 2 * certificate, 0.2);
            var known = new Dictionary<Channel, PooledDeviation> { [Channel.Red] = new(test, 19) };
            var red = CalibrationAssessment.Of(plaque, new RepeatabilityData([.. reads], 0.001), known)[Channel.Red]!;
            held = (held.Zero + (red.Zero.Holds(0.03) ? 1 : 0), held.Slope + (red.Slope!.Value.Holds(1.01) ? 1 : 0));
        }

        return (held.Zero / (double)Runs, held.Slope / (double)Runs);
    }

    private static ChannelCalibration Check(
        double[] means, double certificate, int reads, PooledDeviation? known = null, int decimals = 4) =>
        Report(means, certificate, reads, known, decimals).Channels[0];

    private static CalibrationReport Report(double[] means, double certificate, int reads, PooledDeviation? known = null, int decimals = 4)
    {
        var plaque = PublishedReads.Plaque(Densities.Select(d => (decimal)d), 2 * certificate, 0.2);
        var all = means.SelectMany((m, i) => Enumerable.Range(1, reads).Select(n => PublishedReads.Red($"{i}", n, (decimal)m)));
        return CalibrationAssessment.Of(
            plaque,
            new RepeatabilityData([.. all], Math.Pow(10, -decimals)),
            known is { } s ? ImmutableDictionary<Channel, PooledDeviation>.Empty.Add(Channel.Red, s) : null);
    }
}

using Acquire.Analysis.Gauge;
using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Tests.Gauge;

public class CalibrationAssessmentTests
{
    private static readonly decimal[] Certified = [0.05m, 0.60m, 1.20m, 2.00m, 3.00m];

    private static Plaque Plaque(int patches = 5, double uncertainty = 0.004) =>
        PublishedReads.Plaque(Certified.Take(patches), uncertainty, 0.02, first: 1);

    // Three reads a thousandth about the certified value plus an error.
    private static RepeatabilityData Reads(Func<decimal, decimal> error, int patches = 5, int reads = 3) => new(
    [
        .. Certified.Take(patches).SelectMany((v, i) =>
            Enumerable.Range(1, reads)
                .Select(n => PublishedReads.Red($"{i + 1}", n, v + Math.Round(error(v), 3) + (((n % 3) - 1) * 0.001m)))),
    ]);

    private static ChannelCalibration Red(CalibrationReport report) => report[Channel.Red]!;

    [Fact]
    public void Readings_at_the_certified_values_pass_with_nothing_to_do()
    {
        var report = CalibrationAssessment.Of(Plaque(), Reads(_ => 0.001m));

        Assert.Equal((CheckVerdict.Pass, CalibrationFault.None), (report.Verdict, Red(report).Cause));
        Assert.All(Red(report).Patches, p => Assert.True(p.IsInside && p.ProbabilityInside > 0.99));
        Assert.Contains("Nothing to do", Red(report).Advice, StringComparison.Ordinal);
        Assert.Empty(report.Notes);
    }

    [Fact]
    [Trait("Source", "By hand: s = 0.001 pooled, u² = 0.001²/3 + 0.002²; the reads scatter by a step, so the step is in s")]
    public void Uncertainty_holds_scatter_and_certificate()
    {
        var patch = Red(CalibrationAssessment.Of(Plaque(), Reads(_ => 0))).Patches[0];

        Assert.Equal(Math.Sqrt((1e-6 / 3) + 4e-6), patch.StandardUncertainty, 1e-12);
        Assert.Equal((3, 0.05, 0.0), (patch.Reads, patch.Certified, patch.Error));
    }

    [Fact]
    [Trait("Source", "By hand: one read at a step of 0.001 and no certificate leave 0.001/√12")]
    public void Uncertainty_of_single_reads_is_the_step_and_is_said_to_be()
    {
        var report = CalibrationAssessment.Of(Plaque(uncertainty: 0), Reads(_ => 0, reads: 1));

        Assert.Equal(0.001 / Math.Sqrt(12), Red(report).Patches[0].StandardUncertainty, 1e-12);
        Assert.Contains(report.Notes, n => n.Contains("no patch was read twice", StringComparison.Ordinal));
    }

    [Fact]
    public void Uncertainty_of_single_reads_rests_on_known_repeatability()
    {
        var known = new Dictionary<Channel, PooledDeviation> { [Channel.Red] = new(0.004, 30) };

        var patch = Red(CalibrationAssessment.Of(Plaque(), Reads(_ => 0, reads: 1), known)).Patches[0];

        Assert.Equal(Math.Sqrt(16e-6 + 4e-6), patch.StandardUncertainty, 1e-12);
    }

    [Fact]
    public void All_patches_off_alike_are_a_zero()
    {
        var red = Red(CalibrationAssessment.Of(Plaque(), Reads(_ => 0.04m)));

        Assert.Equal((CheckVerdict.Fail, CalibrationFault.Zero), (red.Verdict, red.Cause));
        Assert.Equal(0.04, red.Zero.Value, 1e-9);
        Assert.Equal(1, red.Slope!.Value.Value, 1e-9);
        Assert.Contains("clean the aperture and zero again", red.Advice, StringComparison.Ordinal);
    }

    [Fact]
    public void Errors_that_grow_with_density_are_a_slope()
    {
        var red = Red(CalibrationAssessment.Of(Plaque(), Reads(v => v * 0.02m)));

        Assert.Equal((CheckVerdict.Fail, CalibrationFault.Slope), (red.Verdict, red.Cause));
        Assert.Equal(1.02, red.Slope!.Value.Value, 1e-9);
        Assert.False(red.Slope.Value.Holds(1));
        Assert.Contains("adjust the slope", red.Advice, StringComparison.Ordinal);
    }

    [Fact]
    public void Both_at_once_are_both()
    {
        var red = Red(CalibrationAssessment.Of(Plaque(), Reads(v => (v * 0.02m) - 0.04m)));

        Assert.Equal(CalibrationFault.ZeroAndSlope, red.Cause);
        Assert.Contains("zero again first", red.Advice, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    public void One_patch_off_is_dust(int patch)
    {
        var red = Red(CalibrationAssessment.Of(Plaque(), Reads(v => v == Certified[patch] ? 0.06m : 0)));

        Assert.Equal(CalibrationFault.OnePatch, red.Cause);
        Assert.StartsWith($"Patch {patch + 1} alone is off (+0.060): blow the dust off", red.Advice, StringComparison.Ordinal);
    }

    [Fact]
    public void Errors_without_a_pattern_ask_for_cleaning_and_more_reads()
    {
        var red = Red(CalibrationAssessment.Of(Plaque(), Reads(v => v is 0.60m or 3.00m ? 0.05m : -0.05m)));

        Assert.Equal(CalibrationFault.Scattered, red.Cause);
    }

    [Fact]
    [Trait("Source", "JCGM 106:2012, clause 7: on the limit the chance of being inside is one half")]
    public void Error_on_the_tolerance_is_undecided_though_plainly_inside()
    {
        var red = Red(CalibrationAssessment.Of(Plaque(), Reads(_ => 0.02m)));

        Assert.Equal((CheckVerdict.Undecided, CalibrationFault.None), (red.Verdict, red.Cause));
        Assert.All(red.Patches, p => Assert.True(p.IsInside && Math.Abs(p.ProbabilityInside - 0.5) < 1e-6));
        Assert.Contains("too near the tolerance", red.Advice, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    public void Fewer_than_three_densities_give_the_zero_alone(int patches)
    {
        var report = CalibrationAssessment.Of(Plaque(2), Reads(_ => 0.04m, patches));

        Assert.Null(Red(report).Slope);
        Assert.Equal(0.04, Red(report).Zero.Value, 1e-9);
        Assert.False(Red(report).Zero.Holds(0));
        Assert.Equal(CalibrationFault.Zero, Red(report).Cause);
        Assert.Contains(report.Notes, n => n.Contains("a slope needs three", StringComparison.Ordinal));
    }

    [Fact]
    public void Readings_from_the_wrong_end_are_refused()
    {
        var backwards = Certified.Reverse().Select((v, i) => PublishedReads.Red($"{i + 1}", 1, v));

        var fault = Assert.Throws<GaugeException>(() => CalibrationAssessment.Of(Plaque(), new RepeatabilityData([.. backwards])));

        Assert.Contains("wrong end", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Readings_of_other_patches_are_refused_and_patches_not_read_are_named()
    {
        var fault = Assert.Throws<GaugeException>(() => CalibrationAssessment.Of(Plaque(), PublishedReads.Reds("ld", 0.46m)));
        var report = CalibrationAssessment.Of(Plaque(), Reads(_ => 0, 4));

        Assert.Contains("the plaque has 1, 2, 3, 4, 5, read ld", fault.Message, StringComparison.Ordinal);
        Assert.Contains("red: not read: 5.", report.Notes);
    }

    [Fact]
    [Trait("Source", "Simulation with a known zero and slope: 95 % intervals hold them as often as they promise")]
    public void Intervals_of_zero_and_slope_hold_the_truth_as_often_as_they_promise()
    {
        var random = new Random(5);
        var held = (Zero: 0, Slope: 0);
        for (var i = 0; i < 2000; i++)
        {
            ImmutableArray<GaugeRead> reads =
                [.. Certified.Select((v, p) => PublishedReads.Red(
                    $"{p + 1}", 1, Math.Round((1.01m * v) + 0.02m + (decimal)(0.005 * Statistics.RandomNumbers.Normal(random)), 5)))];
            var red = Red(CalibrationAssessment.Of(Plaque(), new RepeatabilityData(reads)));
            held = (held.Zero + (red.Zero.Holds(0.02) ? 1 : 0), held.Slope + (red.Slope!.Value.Holds(1.01) ? 1 : 0));
        }

        Assert.InRange(held.Zero / 2000.0, 0.935, 0.965);
        Assert.InRange(held.Slope / 2000.0, 0.935, 0.965);
    }

    [Fact]
    public void Assessment_of_any_readings_gives_probabilities_and_words() =>
        Gen.Int[-60, 60].Array[5].Sample(errors =>
        {
            var red = Red(CalibrationAssessment.Of(Plaque(), Reads(v => errors[Certified.IndexOf(v)] / 1000m)));
            Assert.All(red.Patches, p => Assert.InRange(p.ProbabilityInside, 0, 1));
            Assert.Equal(red.Patches.Max(p => p.Verdict), red.Verdict);
            Assert.Equal(red.Verdict == CheckVerdict.Fail, red.Cause != CalibrationFault.None);
            Assert.NotEmpty(red.Advice);
        });
}

using Acquire.Analysis.Gauge;

namespace Acquire.Analysis.Tests.Gauge;

public class CheckStandardTests
{
    private static readonly double[] Means =
    [
        97.070, 97.049, 97.048, 97.084, 97.106, 97.014, 97.047, 97.078, 97.065, 97.061, 97.060, 97.102, 97.096,
        97.035, 97.114, 97.069, 97.095, 97.088, 97.079, 97.016, 97.051, 97.070, 97.065, 97.111, 97.073,
    ];

    private static readonly double[] Deviations =
    [
        0.085, 0.052, 0.038, 0.036, 0.049, 0.036, 0.052, 0.117, 0.085, 0.052, 0.060, 0.048, 0.026,
        0.088, 0.031, 0.037, 0.032, 0.056, 0.067, 0.116, 0.046, 0.078, 0.040, 0.038, 0.039,
    ];

    private static ImmutableArray<CheckOccasion> Resistivity { get; } =
        [.. Means.Zip(Deviations, (m, s) => (m, s)).Select((o, i) => new CheckOccasion($"{i + 1}", o.m, o.s, 6))];

    [Fact]
    [Trait("Source", "NIST/SEMATECH e-Handbook 2.6.2, check standard 137, probe 2362: occasion 6 outside in mean, 8 and 20 in scatter; "
        + "limits computed independently")]
    public void Chart_of_the_handbooks_check_standard_flags_its_occasions()
    {
        var chart = CheckStandard.Of(Resistivity);

        Assert.Equal(97.06984, chart.Centre, 0.000005);
        Assert.Equal(0.02680, chart.S, 0.000005);
        Assert.Equal(97.01453, chart.Lower, 0.00001);
        Assert.Equal(97.12515, chart.Upper, 0.00001);
        Assert.Equal((0.06139, 125), (Math.Round(chart.ShortTerm!.Value.StandardDeviation, 5), chart.ShortTerm.Value.DegreesOfFreedom));
        Assert.Equal(0.09283, chart.Points[0].ScatterLimit!.Value, 0.00001);
        Assert.Equal(["6"], chart.Points.Where(p => p.MeanOutside).Select(p => p.Occasion.Label));
        Assert.Equal(["8", "20"], chart.Points.Where(p => p.ScatterOutside).Select(p => p.Occasion.Label));
    }

    [Fact]
    public void Chart_of_a_baseline_does_not_learn_from_what_comes_after()
    {
        var (all, later) = (Resistivity[..10], Resistivity[..10].Add(new CheckOccasion("moved", 97.5, 0.5, 6)));

        var (before, after) = (CheckStandard.Of(all), CheckStandard.Of(later, 10));

        Assert.Equal((before.Lower, before.Upper, 10), (after.Lower, after.Upper, after.Baseline));
        Assert.True(after.Points[^1] is { MeanOutside: true, ScatterOutside: true });
    }

    [Fact]
    public void Equal_means_leave_room_for_the_display_step()
    {
        ImmutableArray<CheckOccasion> same = [.. Enumerable.Range(0, 5).Select(i => CheckOccasion.Of($"{i}", [0.46, 0.46, 0.46]))];

        var chart = CheckStandard.Of(same.Add(CheckOccasion.Of("next", [0.46, 0.47, 0.46])), 5, 0.01);

        Assert.Equal(0.01 / Math.Sqrt(12), chart.S, 1e-15);
        Assert.DoesNotContain(chart.Points, p => p.MeanOutside || p.ScatterOutside);
    }

    [Fact]
    public void Single_reads_have_no_limit_of_scatter()
    {
        var chart = CheckStandard.Of([new("a", 0.46, null, 1), new("b", 0.47, null, 1), new("c", 0.46, null, 1)]);

        Assert.Null(chart.ShortTerm);
        Assert.All(chart.Points, p => Assert.Null(p.ScatterLimit));
    }

    [Fact]
    public void Limits_lie_about_the_centre_and_do_not_depend_on_the_order() =>
        Gen.Double[0.4, 0.5].Array[2, 20].SelectMany(n => Gen.Shuffle(n).Select(s => (Given: n, Shuffled: s))).Sample(pair =>
        {
            CheckStandard Chart(double[] means) => CheckStandard.Of([.. means.Select((m, i) => new CheckOccasion($"{i}", m, null, 1))]);
            var (given, shuffled) = (Chart(pair.Given), Chart(pair.Shuffled));
            Assert.Equal(2 * given.Centre, given.Lower + given.Upper, 1e-12);
            Assert.Equal(given.Upper, shuffled.Upper, 1e-9);
        });

    [Fact]
    public void Too_few_occasions_are_refused_with_what_to_do()
    {
        var fault = Assert.Throws<GaugeException>(() => CheckStandard.Of(Resistivity[..1]));

        Assert.Contains("Read the reference strip again", fault.Message, StringComparison.Ordinal);
        Assert.Throws<GaugeException>(() => CheckStandard.Of(Resistivity, 26));
        Assert.Throws<GaugeException>(() => CheckStandard.Of([]));
        Assert.Throws<GaugeException>(() => CheckStandard.Of([new("a", double.NaN, null, 1), new("b", 0.4, null, 1)]));
    }
}

using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Tests.Statistics;

public class OneWayTests
{
    private static readonly double[][] Usp =
    [
        [100.70, 101.05, 101.15], [99.46, 99.37, 99.59], [99.96, 100.17, 101.01], [101.80, 102.16, 102.44], [101.91, 102.00, 101.67],
    ];

    [Fact]
    [Trait(
        "Source",
        "USP 29, chapter 1010: between 14.200 (4), within 1.018 (10), F 34.80 from rounded squares; exact F computed independently")]
    public void Analysis_of_five_runs_has_the_printed_table()
    {
        var analysis = OneWay.Of(Usp);

        Assert.Equal(14.200, analysis.Between.SumOfSquares, 0.0005);
        Assert.Equal(1.018, analysis.Within.SumOfSquares, 0.0005);
        Assert.Equal(15.217, analysis.Total.SumOfSquares, 0.001);
        Assert.Equal((4, 10, 14), (analysis.Between.DegreesOfFreedom, analysis.Within.DegreesOfFreedom, analysis.Total.DegreesOfFreedom));
        Assert.Equal(3.550, analysis.Between.MeanSquare!.Value, 0.0005);
        Assert.Equal(0.102, analysis.Within.MeanSquare!.Value, 0.0005);
        Assert.Equal(34.886, analysis.F!.Value, 0.0005);
        Assert.InRange(analysis.P!.Value, 0, 1e-4);
    }

    [Theory]
    [InlineData(1, 1, 1.251)]
    [InlineData(1, 2, 1.200)]
    [InlineData(1, 3, 1.183)]
    [InlineData(2, 1, 0.625)]
    [InlineData(2, 2, 0.600)]
    [InlineData(2, 3, 0.592)]
    [Trait("Source", "USP 29, chapter 1010: variance of a mean of so many runs and replicates")]
    public void Components_give_the_printed_variance_of_a_mean(int runs, int replicates, double expected) =>
        Assert.Equal(expected, OfMean(OneWay.Of(Usp).Components!, runs, replicates), 0.0011);

    [Fact]
    [Trait("Source", "NIST/SEMATECH e-Handbook 7.4.4, batches (value from memory): 36.935, 1.80, F 20.5, component 11.71")]
    public void Components_of_the_handbooks_batches_are_the_printed_ones()
    {
        var analysis = OneWay.Of([[74.0, 76, 75], [68.0, 71, 72], [75.0, 77, 77], [72.0, 74, 73], [79.0, 81, 79]]);

        Assert.Equal(147.74, analysis.Between.SumOfSquares, 0.01);
        Assert.Equal(18.0, analysis.Within.SumOfSquares, 1e-9);
        Assert.Equal(20.5, analysis.F!.Value, 0.05);
        Assert.Equal(11.71, analysis.Components!.Between, 0.005);
        Assert.Equal(1.80, analysis.Components.Within, 1e-9);
    }

    [Fact]
    [Trait("Source", "NIST/SEMATECH e-Handbook 7.4.3.3 (value from memory): 27.897, 17.452, F 9.59; p computed independently 0.003248")]
    public void Analysis_of_the_handbooks_treatments_has_the_printed_table()
    {
        var analysis = OneWay.Of([[6.9, 5.4, 5.8, 4.6, 4.0], [8.3, 6.8, 7.8, 9.2, 6.5], [8.0, 10.5, 8.1, 6.9, 9.3]]);

        Assert.Equal(27.897, analysis.Between.SumOfSquares, 0.0006);
        Assert.Equal(17.452, analysis.Within.SumOfSquares, 0.0006);
        Assert.Equal(9.59, analysis.F!.Value, 0.005);
        Assert.Equal(0.003248, analysis.P!.Value, 0.0000005);
    }

    [Fact]
    [Trait("Source", "NIST Statistical Reference Datasets, one-way analysis of variance, SiRstv, certified values")]
    public void Analysis_of_the_silicon_resistivities_has_the_certified_values()
    {
        var analysis = OneWay.Of(
        [
            [196.3052, 196.1240, 196.1890, 196.2569, 196.3403],
            [196.3042, 196.3825, 196.1669, 196.3257, 196.0422],
            [196.1303, 196.2005, 196.2889, 196.0343, 196.1811],
            [196.2795, 196.1748, 196.1494, 196.1485, 195.9885],
            [196.2119, 196.1051, 196.1850, 196.0052, 196.2090],
        ]);

        Assert.Equal(5.11462616000000E-02, analysis.Between.SumOfSquares, 1e-12);
        Assert.Equal(2.16636560000000E-01, analysis.Within.SumOfSquares, 1e-12);
        Assert.Equal(1.18046237440255, analysis.F!.Value, 1e-10);
    }

    [Theory]
    [InlineData(0, 1e-10)]
    [InlineData(1e6, 1e-6)]
    [InlineData(1e12, 0.05)] // the data themselves are rounded to about 1e-4 here
    [Trait("Source", "NIST Statistical Reference Datasets, SmLs01, SmLs04, SmLs07: F = 21.0")]
    public void Analysis_of_a_large_common_part_keeps_its_digits(double common, double error)
    {
        double[] bases = [1.4, 1.3, 1.5, 1.3, 1.5, 1.3, 1.5, 1.3, 1.5];
        var groups = bases.Select(b => common + b).Select(b =>
            (double[])[b, .. Enumerable.Range(0, 10).SelectMany(_ => new[] { b - 0.1, b + 0.1 })]);

        Assert.Equal(21.0, OneWay.Of(groups).F!.Value, error);
    }

    [Fact]
    [Trait(
        "Source", "GUM (JCGM 100:2008), H.5: day means and deviations of a 10 V standard; F 2.25, s(mean) 18 µV, between days about 43 µV")]
    public void Analysis_of_the_voltage_standards_days_is_that_of_the_guide()
    {
        double[] means = [172, 116, 13, 144, 106, 31, 60, 125, 163, 41];
        double[] deviations = [60, 77, 111, 101, 67, 93, 80, 73, 88, 86];

        var analysis = OneWay.Of([.. means.Zip(deviations, (m, s) => new Summary(5, m, s))]);

        Assert.Equal((9, 40), (analysis.Between.DegreesOfFreedom, analysis.Within.DegreesOfFreedom));
        Assert.Equal(2.2615, analysis.F!.Value, 0.005);
        Assert.Equal(0.0374, analysis.P!.Value, 0.0005);
        Assert.Equal(85, Math.Sqrt(analysis.Components!.Within), 0.5);
        Assert.Equal(43, Math.Sqrt(analysis.Components.Between), 0.5);
        Assert.Equal(18, Math.Sqrt(OfMean(analysis.Components, 10, 5)), 0.5);
    }

    [Fact]
    [Trait("Source", "By hand: groups (1, 3), (2), (1, 2, 3) have means all 2, so nothing lies between")]
    public void Component_below_zero_is_set_to_zero_and_said()
    {
        var components = OneWay.Of([[1.0, 3], [2.0], [1.0, 2, 3]]).Components!;

        Assert.Equal((4.0 / 3, 0.0, true), (components.Within, components.Between, components.BetweenFloored));
        Assert.Equal(3, components.DegreesOfFreedom);
    }

    [Fact]
    [Trait("Source", "By hand: n₀ = (6 − (4 + 1 + 9)/6)/2 = 11/6")]
    public void Group_size_of_unequal_groups_is_the_unbiased_one() =>
        Assert.Equal(11.0 / 6, OneWay.Of([[1.0, 3], [5.0], [1.0, 2, 3]]).GroupSize, 1e-12);

    [Fact]
    public void Squares_between_and_within_add_up_to_those_about_the_mean() =>
        Gen.Double[-100, 100].Array[1, 8].Array[1, 8].Sample(groups =>
        {
            var analysis = OneWay.Of(groups);
            var all = Summary.Of([.. groups.SelectMany(g => g)]);
            var total = (all.Count - 1) * Math.Pow(all.StandardDeviation ?? 0, 2);
            Assert.Equal(total, analysis.Total.SumOfSquares, 1e-8 * Math.Max(1, total));
            Assert.Equal(all.Count - 1, analysis.Total.DegreesOfFreedom);
            Assert.True(analysis.Components is null or { Between: >= 0, DegreesOfFreedom: >= 1 });
        });

    [Fact]
    [Trait("Source", "Simulation with known components: σ within 1, σ between 2")]
    public void Components_of_many_groups_come_back()
    {
        var random = new Random(11);
        var groups = Enumerable.Range(0, 4000).Select(i =>
        {
            var level = 2 * random.Normal();
            return (double[])[.. Enumerable.Range(0, 2 + (i % 3)).Select(_ => level + random.Normal())];
        });

        var components = OneWay.Of(groups).Components!;

        Assert.Equal(1, components.Within, 0.05);
        Assert.Equal(4, components.Between, 0.3);
    }

    [Fact]
    public void Analysis_without_groups_is_refused() => Assert.Throws<ArgumentException>(() => OneWay.Of(Array.Empty<double[]>()));

    private static double OfMean(VarianceComponents components, int groups, int readingsInEach) =>
        (components.Between / groups) + (components.Within / (groups * readingsInEach));
}

using Acquire.Analysis.Control;

namespace Acquire.Analysis.Tests.Control;

[Trait("Source", "Piston rings (Montgomery): printed results of the vignette of R package qcc 3.0, which rounds d2 to 2.326")]
public class SubgroupChartTests
{
    private static readonly SubgroupChart ByRanges = SubgroupChart.ByRanges(PistonRings.Samples, 25);

    [Fact]
    public void Means_chart_by_ranges_has_the_published_limits()
    {
        Assert.Equal(74.00118, ByRanges.Centre, 5e-6);
        Assert.Equal(0.009785, ByRanges.Sigma, 5e-7);
        Assert.Equal(73.98805, ByRanges.Lower, 5e-6);
        Assert.Equal(74.0143, ByRanges.Upper, 5e-5);
        Assert.Equal(0.02276, ByRanges.MeanScatter, 5e-7);
        Assert.Equal(0.04812533, ByRanges.ScatterUpper, 1e-6);
    }

    [Fact]
    public void Run_rules_flag_the_published_samples()
    {
        var signals = RunSignal.Find(ByRanges.Standardized, [.. RunRuleSets.WesternElectric.Union(RunRuleSets.Nelson)]);

        Assert.Equal([37, 38, 39], Samples(signals, RunRule.BeyondThreeSigma));
        Assert.Equal([35, 37, 38, 39, 40], Samples(signals, RunRule.TwoOfThreeBeyondTwo));
        Assert.Equal([35, 38, 39, 40], Samples(signals, RunRule.FourOfFiveBeyondOne));
        Assert.Equal(12, signals.Length);
        Assert.All(signals, s => Assert.Equal(Side.High, s.Side));
    }

    [Fact]
    public void Average_of_the_means_passes_its_limits_at_the_published_samples()
    {
        var ewma = new Ewma(ByRanges.Centre, ByRanges.SigmaOfMean, 0.2, 3).Of(ByRanges.Means);

        Assert.Equal((73.99855, 74.00380), (Math.Round(ewma[0].Lower, 5), Math.Round(ewma[0].Upper, 5)));
        Assert.Equal((73.99781, 74.00454), (Math.Round(ewma[1].Lower, 5), Math.Round(ewma[1].Upper, 5)));
        Assert.Equal((73.99680, 74.00555), (Math.Round(ewma[24].Lower, 5), Math.Round(ewma[24].Upper, 5)));
        Assert.Equal([74.00536, 74.00509, 74.00739], ewma.Skip(34).Take(3).Select(p => Math.Round(p.Value, 5)));
        Assert.Equal([37, 38, 39, 40], ewma.Where(p => p.Signal != Side.Neither).Select(p => p.Count));
    }

    [Fact]
    public void Sums_of_the_means_pass_five_standard_errors_at_the_published_samples()
    {
        var se = ByRanges.SigmaOfMean;
        var sums = Cusum.Usual(ByRanges.Centre, se).Of(ByRanges.Means);

        Assert.Equal([1.5621, 0.9305, 1.9898], sums.Take(3).Select(p => Math.Round(p.High / se, 4)));
        Assert.Equal([4.1625, 7.1871, 10.8972, 15.4756, 17.6318], sums.Skip(35).Select(p => Math.Round(p.High / se, 4)));
        Assert.Equal([37, 38, 39, 40], sums.Where(p => p.Signal == Side.High).Select(p => p.Count));
    }

    [Fact]
    public void Unequal_or_single_subgroups_are_refused()
    {
        Assert.Throws<ArgumentException>(() => SubgroupChart.ByRanges([[1, 2], [1, 2, 3]], 2));
        Assert.Throws<ArgumentException>(() => SubgroupChart.ByRanges([[1.0], [2.0]], 2));
        Assert.Throws<ArgumentException>(() => SubgroupChart.ByRanges([[1, 2], [1, 2]], 3));
    }

    private static IEnumerable<int> Samples(IEnumerable<RunSignal> signals, RunRule rule) =>
        signals.Where(s => s.Rule == rule).Select(s => s.Index + 1);
}

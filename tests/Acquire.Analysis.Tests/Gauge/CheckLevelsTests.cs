using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Tests.Gauge;

/// <summary>The three levels of a check standard: readings, days, runs.</summary>
public class CheckLevelsTests
{
    private static readonly double[] FirstRun = [96.0771, 95.9976, 96.0148, 96.0397, 96.0407, 96.0445];

    private static readonly double[] SecondRun = [96.0793, 96.1115, 96.0803, 96.0411, 96.0988, 96.0482];

    [Fact]
    [Trait("Source", "NIST/SEMATECH e-Handbook 2.4.4.2: days of two runs, 0.027280 and 0.027560, pooled 0.02742 at 10 degrees of freedom")]
    public void Days_of_the_handbooks_check_standard_pool_to_its_reproducibility()
    {
        var runs = new[] { Summary.Of(FirstRun), Summary.Of(SecondRun) };

        var pooled = PooledDeviation.Of(runs.Select(r => (r.StandardDeviation!.Value, r.Count - 1)))!.Value;

        Assert.Equal(0.027280, runs[0].StandardDeviation!.Value, 0.000005);
        Assert.Equal(0.027560, runs[1].StandardDeviation!.Value, 0.000005);
        Assert.Equal((0.02742, 10), (Math.Round(pooled.StandardDeviation, 5), pooled.DegreesOfFreedom));
        Assert.Equal(pooled.StandardDeviation, Math.Sqrt(OneWay.Of([FirstRun, SecondRun]).Within.MeanSquare!.Value), 1e-12);
    }

    [Fact]
    [Trait("Source", "NIST/SEMATECH e-Handbook 2.4.4.3: runs of check standards 138 to 142, 0.0223 0.0027 0.0289 0.0133 0.0205, pooled "
        + "0.0197 at 5 degrees of freedom")]
    public void Runs_of_the_handbooks_check_standards_pool_to_its_stability()
    {
        double[] published = [0.0223, 0.0027, 0.0289, 0.0133, 0.0205];

        var pooled = PooledDeviation.Of(published.Select(s => (s, 1)))!.Value;

        Assert.Equal((0.0197, 5), (Math.Round(pooled.StandardDeviation, 4), pooled.DegreesOfFreedom));
        // Standard 140 from the averages of its two runs.
        Assert.Equal(0.0289, Summary.Of([FirstRun.Average(), SecondRun.Average()]).StandardDeviation!.Value, 0.0001);
    }
}

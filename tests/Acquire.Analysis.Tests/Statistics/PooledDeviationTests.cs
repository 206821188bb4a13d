using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Tests.Statistics;

public class PooledDeviationTests
{
    [Fact]
    [Trait("Source", "NIST/SEMATECH e-Handbook 2.4.4.1: total SS 0.37176, 60 degrees of freedom, pooled s 0.07871")]
    public void Pooling_of_the_handbooks_check_standard_gives_its_repeatability()
    {
        double[] deviations =
            [0.1024, 0.0943, 0.0622, 0.0702, 0.0627, 0.0622, 0.0996, 0.0533, 0.0364, 0.0768, 0.1042, 0.0868];

        var pooled = PooledDeviation.Of(deviations.Select(s => (s, 5)))!.Value;

        Assert.Equal(60, pooled.DegreesOfFreedom);
        Assert.Equal(0.07871, pooled.StandardDeviation, 0.000005);
        Assert.Equal(0.0787144, pooled.StandardDeviation, 0.00000005);
    }

    [Fact]
    [Trait("Source", "The formula by hand: (4 · 0.01² + 1 · 0.03²) / 5 = 0.00026")]
    public void Pooling_weights_by_degrees_of_freedom() =>
        Assert.Equal(Math.Sqrt(0.00026), PooledDeviation.Of([(0.01, 4), (0.03, 1), (99, 0)])!.Value.StandardDeviation, 1e-15);

    [Fact]
    public void Pooling_of_groups_without_freedom_gives_nothing()
    {
        Assert.Null(PooledDeviation.Of([(0.0, 0), (0.0, 0)]));
        Assert.Null(PooledDeviation.Of([]));
    }
}

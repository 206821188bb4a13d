using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Tests.Statistics;

public class SigmaEstimatesTests
{
    [Theory]
    [Trait("Source", "ASTM MNL 7, table of control chart constants, c4: values from memory; 2 and 3 by hand, √(2/π) and √π/2")]
    [InlineData(2, 0.7979)]
    [InlineData(3, 0.8862)]
    [InlineData(5, 0.9400)]
    [InlineData(10, 0.9727)]
    [InlineData(25, 0.9896)]
    public void C4_is_the_tabled_one(int n, double expected) => Assert.Equal(expected, SigmaEstimates.C4(n), 5e-5);

    [Fact]
    public void Estimates_of_two_groups_by_hand()
    {
        // s of 1, 3 is √2, of 5, 9 is √8; ranges 2 and 4; moving ranges 2, 2, 4.
        var found = SigmaEstimates.Of([1, 3, 5, 9], [[1, 3], [5, 9]]);

        var (c2, d2) = (Math.Sqrt(2 / Math.PI), 2 / Math.Sqrt(Math.PI));
        Assert.Equal(Math.Sqrt(35 / 3.0) / SigmaEstimates.C4(4), found.Overall!.Value, 1e-12);
        Assert.Equal(8 / 3.0 / d2, found.MovingRange!.Value, 1e-8);
        Assert.Equal(Math.Sqrt(5) / (Math.Sqrt(Math.PI) / 2), found.Pooled!.Value, 1e-12);
        Assert.Equal(3 / d2, found.Ranges!.Value, 1e-8);
        Assert.Equal((Math.Sqrt(2) + Math.Sqrt(8)) / 2 / c2, found.Deviations!.Value, 1e-12);
    }

    [Fact]
    public void One_value_tells_nothing() => Assert.Equal(new SigmaEstimates(null, null, null, null, null), SigmaEstimates.Of([0.5], []));
}

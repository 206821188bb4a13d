using Acquire.Analysis.Uncertainty;

namespace Acquire.Analysis.Tests.Uncertainty;

public class MoreReadsTests
{
    private static readonly Limit Limit = new(-0.06, 0.06, "test");

    [Fact]
    [Trait("Source", "By hand: 0.05 at ±0.06 needs u = 0.01/1.6449 = 0.00608; 0.012²/n + 0.003² reaches it at n = 6")]
    public void Reads_that_would_decide_are_counted() =>
        Assert.Equal(3, MoreReads.ToDecide(3, Inside(0.05, 0.012 * 0.012 / 3, 0.003 * 0.003)));

    [Fact]
    public void What_stays_open_can_only_be_told_by_a_second_strip() =>
        Assert.Null(MoreReads.ToDecide(3, Inside(0.055, 0.012 * 0.012 / 3, 0.008 * 0.008)));

    private static Func<double, double> Inside(double deviation, double reading, double other) =>
        share => Conformity.Inside(Limit, deviation, Math.Sqrt((reading * share) + other));
}

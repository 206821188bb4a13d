using Acquire.Analysis.Uncertainty;
using Acquire.Domain.Processes;

namespace Acquire.Analysis.Tests.Uncertainty;

public class MoreReadsTests
{
    private static readonly Limit Limit = new(-0.06, 0.06, "test");

    [Fact]
    [Trait("Source", "By hand: 0.05 at ±0.06 needs u = 0.01/1.6449 = 0.00608; 0.012²/n + 0.003² reaches it at n = 6")]
    public void Reads_that_would_decide_are_counted() =>
        Assert.Equal(3, MoreReads.ToDecide(Limit, 0.05, 3, 0.012 * 0.012 / 3, 0.003 * 0.003));

    [Fact]
    public void What_stays_open_can_only_be_told_by_a_second_strip() =>
        Assert.Null(MoreReads.ToDecide(Limit, 0.055, 3, 0.012 * 0.012 / 3, 0.008 * 0.008));
}

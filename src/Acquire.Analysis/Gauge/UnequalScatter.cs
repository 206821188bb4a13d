using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Gauge;

/// <summary>Does one patch scatter more than the others, so that the pooled scatter understates it?</summary>
internal static class UnequalScatter
{
    /// <summary>
    /// The patch that scatters most against all others pooled, by the F test, its chance multiplied by the number of patches since the
    /// worst was picked (the test of Cochran that ISO 5725-2 uses, in its form for unequal numbers of reads).
    /// </summary>
    /// <returns>The patch and the pooled scatter of the others; null when chance explains it.</returns>
    public static (PatchRepeatability Patch, double Others)? Of(ChannelRepeatability channel)
    {
        var patches = channel.Patches.Where(p => p.Scatter is not null).ToImmutableArray();
        var worst = patches.MaxBy(p => p.Scatter!.Stated);
        var rest = PooledDeviation.Of(patches.Where(p => p != worst).Select(p => (p.Scatter!.Stated, p.Scatter.DegreesOfFreedom)));
        if (worst?.Scatter is not { } scatter || rest is not { } others)
        {
            return null;
        }

        var test = VarianceRatio.Of(scatter.Stated, scatter.DegreesOfFreedom, others.StandardDeviation, others.DegreesOfFreedom);
        return test.PLarger * patches.Length < 0.05 ? (worst, others.StandardDeviation) : null;
    }
}

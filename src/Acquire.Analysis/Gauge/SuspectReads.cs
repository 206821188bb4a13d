using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Gauge;

/// <summary>Looks for reads that stand apart, patch by patch.</summary>
internal static class SuspectReads
{
    /// <summary>
    /// Grubbs' test, except that a read within one display step of another is never named: ten reads of 0.26 and one of 0.27 are a
    /// rounding, though the test, which knows no steps, would name it.
    /// </summary>
    public static SuspectRead? Of(Placements patch, Channel channel, double resolution)
    {
        double[] values = [.. patch.Reads.Select(r => (double)r.Values[channel])];
        if (Grubbs.Of(values) is not { IsOutlier: true } test || values.Where((_, i) => i != test.Index).Any(IsNear))
        {
            return null;
        }

        var read = patch.Reads[test.Index];
        return new SuspectRead(patch.Patch, channel, read.Number, read.Placement, read.Values[channel], test.G, test.Critical, test.P);

        bool IsNear(double value) => Math.Abs(value - values[test.Index]) <= resolution * (1 + 1e-6);
    }
}

/// <summary>A read that lies farther from the others of its patch than chance explains. It is named, never dropped.</summary>
/// <param name="Patch">Key of the patch.</param>
/// <param name="Channel">The channel.</param>
/// <param name="Number">Number of the read.</param>
/// <param name="Placement">Its placement; null when every read was placed anew.</param>
/// <param name="Value">What it showed.</param>
/// <param name="G">Distance from the patch's mean, in standard deviations of the patch.</param>
/// <param name="Critical">The distance that chance exceeds once in twenty.</param>
/// <param name="P">Chance of a read this far out, an upper bound.</param>
public sealed record SuspectRead(
    string Patch, Channel Channel, int Number, int? Placement, decimal Value, double G, double Critical, double P)
{
    /// <summary>
    /// Whether chance shows such a read once in a hundred tests or less; else it is a straggler (ISO 5725-2 tells the two apart so).
    /// </summary>
    public bool IsOutlier => P <= 0.01;
}

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

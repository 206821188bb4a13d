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

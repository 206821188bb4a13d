using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Gauge;

/// <summary>How far re-placed reads of one patch scatter, in density: for a patch, or pooled over patches.</summary>
public sealed record Scatter
{
    /// <summary>Two reads of one patch differ by more than this many standard deviations once in
    /// twenty times: 1.96 · √2, written 2.8 (ISO 5725-6).</summary>
    public const double RepeatabilityFactor = 2.8;

    internal Scatter(int reads, int degreesOfFreedom, double s, double resolution, VarianceComponents? components)
    {
        (Reads, DegreesOfFreedom, S, Resolution, Components) = (reads, degreesOfFreedom, s, resolution, components);
        // No display tells of less scatter than its own rounding makes; the interval's lower end stays free, as the reads have it.
        Stated = Math.Max(s, resolution / Math.Sqrt(12));
        (SLow, SHigh) = (DeviationInterval.Of(s, degreesOfFreedom).Low, DeviationInterval.Of(Stated, degreesOfFreedom).High);
    }

    /// <summary>How many reads it rests on.</summary>
    public int Reads { get; }

    public int DegreesOfFreedom { get; }

    /// <summary>Standard deviation of one re-placed read, as the reads show it; 0 when all repeat exactly.</summary>
    public double S { get; }

    /// <summary>The standard deviation to work with: s, but never less than the
    /// d/√12 that the rounding to display steps alone makes.</summary>
    public double Stated { get; }

    /// <summary>Lower end of the 95 % interval of the true standard deviation, from <see cref="S"/>.</summary>
    public double SLow { get; }

    /// <summary>Upper end of the 95 % interval of the true standard deviation, from <see cref="Stated"/>.</summary>
    public double SHigh { get; }

    /// <summary>Repeatability limit r = 2.8 · <see cref="Stated"/>: two reads farther apart than this deserve a question.</summary>
    public double RepeatabilityLimit => RepeatabilityFactor * Stated;

    /// <summary>Display step d, in the unit of the reads.</summary>
    public double Resolution { get; }

    /// <summary>Share of the variance that rounding to the display step makes, d²/12
    /// over the square of <see cref="Stated"/>; 1 at most.</summary>
    public double ResolutionShare => Math.Min(1, Resolution * Resolution / 12 / (Stated * Stated));

    /// <summary>Whether the reads scatter by less than half a display step, so that the step hides what the instrument does. Rounding then
    /// does not average out, and d²/12 counts beside s²/n.</summary>
    public bool ResolutionSpeaks => S < Resolution / 2 * (1 - 1e-9);

    /// <summary>Whether all reads of each patch were equal.</summary>
    public bool AllEqual => S == 0;

    /// <summary>Variance within placements and between them; null unless some placement
    /// was read several times and a patch was placed twice.</summary>
    public VarianceComponents? Components { get; }

    /// <summary>Standard deviation of reads without moving the film; null when not known.</summary>
    public double? SWithin => Components is { } c ? Math.Sqrt(c.Within) : null;

    /// <summary>Standard deviation that placing the film anew adds; null when not known.</summary>
    public double? SPlacement => Components is { } c ? Math.Sqrt(c.Between) : null;

    // Part of the variance of a mean of n re-placed reads, the display step counted once.
    internal double VarianceOfMean(double reads) => (S * S / reads) + Rounding;

    internal double Rounding => ResolutionSpeaks ? Resolution * Resolution / 12 : 0;
}

/// <summary>The reads of one patch in one channel, by placement of the film; a
/// read without a placement is a placement of its own.</summary>
internal sealed record Placements(string Patch, ImmutableArray<GaugeRead> Reads, ImmutableArray<Summary> Groups)
{
    public static Placements Of(RepeatabilityData data, string patch, Channel channel)
    {
        var reads = data.Of(patch, channel);
        var groups = reads
            .Select((read, i) => (read.Placement, Alone: read.Placement is null ? i : -1, Value: (double)read.Values[channel]))
            .GroupBy(r => (r.Placement, r.Alone), r => r.Value)
            .Select(g => Summary.Of([.. g]));
        return new Placements(patch, reads, [.. groups]);
    }

    public Summary Summarise(Channel channel) => Summary.Of([.. Reads.Select(r => (double)r.Values[channel])]);

    public OneWay Analyse() => OneWay.Of(Groups);

    /// <summary>The scatter of one re-placed read. Where placements were read several times the reads of one are no independent
    /// re-placements, so s² is the sum of the components; else every read counts alike.</summary>
    public static Scatter? ScatterOf(IReadOnlyList<OneWay> patches, int reads, double resolution)
    {
        var all = OneWay.Nested(patches);
        return (all.Components, all.Total) switch
        {
            ({ } c, _) => new Scatter(reads, c.DegreesOfFreedom, Math.Sqrt(c.Total), resolution, c),
            (null, { MeanSquare: { } square, DegreesOfFreedom: var freedom }) =>
                new Scatter(reads, freedom, Math.Sqrt(square), resolution, null),
            _ => null,
        };
    }

    /// <summary>Standard uncertainty of the patch's mean from the channel's scatter; reads of one placement share its placing.</summary>
    public double UncertaintyOfMean(Scatter scatter)
    {
        double n = Reads.Length;
        var variance = scatter.Components is { } c
            ? (c.Within / n) + (c.Between * Groups.Sum(g => (double)g.Count * g.Count) / (n * n)) + scatter.Rounding
            : scatter.VarianceOfMean(n);
        return Math.Sqrt(variance);
    }
}

/// <summary>Looks for reads that stand apart, patch by patch.</summary>
internal static class SuspectReads
{
    /// <summary>Grubbs' test, except that a read within one display step of another is never named: ten reads of 0.26 and one of 0.27 are a
    /// rounding, though the test, which knows no steps, would name it.</summary>
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
/// <param name="Number">Number of the read.</param>
/// <param name="Placement">Its placement; null when every read was placed anew.</param>
/// <param name="Value">What it showed.</param>
/// <param name="G">Distance from the patch's mean, in standard deviations of the patch.</param>
/// <param name="Critical">The distance that chance exceeds once in twenty.</param>
/// <param name="P">Chance of a read this far out, an upper bound.</param>
public sealed record SuspectRead(
    string Patch, Channel Channel, int Number, int? Placement, decimal Value, double G, double Critical, double P)
{
    /// <summary>Whether chance shows such a read once in a hundred tests or less; else it
    /// is a straggler (ISO 5725-2 tells the two apart so).</summary>
    public bool IsOutlier => P <= 0.01;
}

/// <summary>Does one patch scatter more than the others, so that the pooled scatter understates it?</summary>
internal static class UnequalScatter
{
    /// <summary>The patch that scatters most against all others pooled, by the F test, its chance multiplied by the number of patches since
    /// the worst was picked (the test of Cochran that ISO 5725-2 uses, in its form for unequal numbers of reads).</summary>
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

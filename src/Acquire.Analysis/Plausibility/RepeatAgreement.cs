using Acquire.Analysis.Statistics;
using MathNet.Numerics.LinearAlgebra;

namespace Acquire.Analysis.Plausibility;

/// <summary>Whether the reads of a patch are of one spot: "re-placing did this" against "one of them met something else". The repeatability
/// may itself be off, and the colours may move together more or less, so both are averaged over.</summary>
internal sealed class RepeatAgreement(StripKnowledge knowledge)
{
    private const double Prior = 0.02;

    // How far a read that went wrong lies off: dust, an edge, another patch; alike in the colours, and each on its own.
    private const double Common = 0.15;
    private const double Own = 0.15;
    private static readonly (double Factor, double Share)[] Tested = [(1, 0.85), (1.3, 0.15)];
    private static readonly (double Factor, double Share)[] Guessed = [(1, 0.75), (1.5, 0.20), (2.5, 0.05)];
    private static readonly double[] Correlations = [0.1, 0.5, 0.85];

    private readonly Dictionary<string, (GaussianMixture Alike, GaussianMixture Apart)> _predictions = [];

    /// <summary>The suspicion about the reads of a patch; null with fewer than two that count, or without any ground.</summary>
    public Suspicion? Of(PatchReads patch)
    {
        var reads = patch.Reads
            .Select((r, i) => (r.Reading.Densities, Place: new ReadPlace(patch.Patch.Key, i), r.Counts))
            .Where(r => r.Counts)
            .ToList();
        ImmutableArray<Channel> channels = [.. knowledge.Sheet.ChannelsNeeded.Where(c => reads.All(r => r.Densities[c] is not null))];
        if (patch.LeftOut is not null || reads.Count < 2 || channels.IsEmpty)
        {
            return null;
        }

        var (place, evidence, difference) = reads
            .Select((r, i) => (r.Place, Difference: Difference(i)))
            .Select(r => (r.Place, Evidence: Evidence(r.Difference, reads.Count - 1), r.Difference))
            .MaxBy(r => r.Evidence);
        var worst = channels[Enumerable.Range(0, channels.Length).MaxBy(i => Math.Abs(difference[i]))];
        var size = Math.Abs(difference[channels.IndexOf(worst)]);
        // Of two reads that differ nothing tells which is wrong, so the whole patch is to be read again.
        return reads.Count == 2
            ? new Suspicion(
                SuspicionKind.SpreadOfRepeats,
                evidence,
                [patch.Patch.Key],
                [.. reads.Select(r => r.Place)],
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"The two reads of {patch.Patch.Name} lie {size:0.00#} apart in {worst.Word()}. Is this one patch, clean and dry? "
                    + $"Read {patch.Patch.Name} again?"),
                new Remedy.ReadPatchAgain([patch.Patch.Key], "its repeats lay too far apart"))
            : new Suspicion(
                SuspicionKind.Outlier,
                evidence,
                [patch.Patch.Key],
                [place],
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"One read of {patch.Patch.Name} lies {size:0.00#} from the others in {worst.Word()}: dust, a scratch, another "
                    + $"patch? Leave it out?"),
                new Remedy.LeaveOutRead(
                    place, string.Create(CultureInfo.InvariantCulture, $"lay {size:0.00#} from the other reads in {worst.Word()}")));

        double[] Difference(int index) =>
        [
            .. channels.Select(c => reads[index].Densities[c]!.Value.ToDouble()
                - reads.Where((_, i) => i != index).Average(r => r.Densities[c]!.Value.ToDouble())),
        ];

        double Evidence(double[] values, int others)
        {
            var step = channels.Max(c => reads.Max(r => r.Densities[c]!.Value.Resolution));
            // In tenths, so that patches of about one density share their predictions.
            var density = Math.Round(Math.Max(0, reads.Average(r => channels.Average(c => r.Densities[c]!.Value.ToDouble()))), 1);
            var key = string.Create(
                CultureInfo.InvariantCulture, $"{string.Concat(channels.Select(c => c.Letter()))}{others}/{step}/{density}");
            if (!_predictions.TryGetValue(key, out var both))
            {
                both = (Predict(channels, others, density, step, 0), Predict(channels, others, density, step, 1));
                _predictions.Add(key, both);
            }

            return Math.Max(-1e4, Math.Min(1e4, Math.Log(Prior) + both.Apart.LogDensity(values) - both.Alike.LogDensity(values)));
        }
    }

    private GaussianMixture Predict(ImmutableArray<Channel> channels, int others, double density, double step, double apart) => new(
    [
        .. from scale in channels.All(c => !knowledge.Instrument.At(c, density).IsAssumed) ? Tested : Guessed
           from correlation in Correlations
           let s = channels.Select(c => Math.Sqrt(Square(scale.Factor * knowledge.RepeatabilityOf(c, density)) + (step * step / 12)))
               .ToArray()
           let covariance = Matrix<double>.Build.Dense(channels.Length, channels.Length, (i, j) =>
               // The mean of the others scatters too.
               (s[i] * s[j] * (i == j ? 1 : correlation) * (1 + (1.0 / others)))
               + (apart * (Square(Common) + (i == j ? Square(Own) : 0))))
           select new MixturePart(Math.Log(scale.Share / Correlations.Length), new double[channels.Length], covariance, null, 1),
    ]);

    private static double Square(double x) => x * x;
}

/// <summary>Two readings too quick after each other to be of a strip placed anew.</summary>
internal static class DoubleTrigger
{
    private const double SameValues = 8;
    private const double WithinOneStep = 6;

    /// <summary>The suspicion about the last read; null when there is none.</summary>
    public static Suspicion? Of(ImmutableArray<TimedRead> reads, StripKnowledge knowledge)
    {
        if (reads.Length < 2 || knowledge.ReadsPerPlacement > 1)
        {
            return null;
        }

        var (before, last) = (reads[^2], reads[^1]);
        var gap = last.Reading.At - before.Reading.At;
        if (before.Reading.IsEntered || last.Reading.IsEntered || gap >= knowledge.Settings.QuickestPlacing
            || Steps(before.Reading.Densities, last.Reading.Densities) is not { } steps || steps > 1.001)
        {
            return null;
        }

        return new Suspicion(
            SuspicionKind.DoubleTrigger,
            steps < 0.001 ? SameValues : WithinOneStep,
            [last.Place.PatchKey],
            [last.Place],
            string.Create(
                CultureInfo.InvariantCulture,
                $"The last reading of {last.Patch.Name} came {gap.TotalSeconds:0.0} s after the one before and shows the same: was it "
                + $"triggered twice? Leave it out?"),
            new Remedy.LeaveOutRead(last.Place, "triggered twice"));
    }

    // How far the values differ, in display steps; null when the readings share no channel.
    private static double? Steps(ChannelDensities before, ChannelDensities last)
    {
        var shared = before.Present.Intersect(last.Present).ToList();
        return shared.Count == 0
            ? null
            : shared.Max(c => Math.Abs(before[c]!.Value.ToDouble() - last[c]!.Value.ToDouble()) / last[c]!.Value.Resolution);
    }
}

/// <summary>A read that counts, with its place.</summary>
/// <param name="Place">Where it stands.</param>
/// <param name="Reading">What the instrument gave.</param>
internal sealed record TimedRead(Patch Patch, ReadPlace Place, Reading Reading)
{
    /// <summary>All reads that count in the order of their times; reads of one time in the order of the strip.</summary>
    public static ImmutableArray<TimedRead> InOrder(ImmutableArray<PatchReads> patches) =>
    [
        .. patches
            .Where(p => p.LeftOut is null)
            .SelectMany(p => p.Reads.Select((r, i) => (p.Patch, Read: r, Index: i)))
            .Where(r => r.Read.Counts)
            .Select(r => new TimedRead(r.Patch, new ReadPlace(r.Patch.Key, r.Index), r.Read.Reading))
            .OrderBy(r => r.Reading.At),
    ];
}

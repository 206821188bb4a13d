using System.Collections.Immutable;
using Acquire.Domain.Densitometry;
using Acquire.Domain.Strips;

namespace Acquire.Analysis.Plausibility.Repeats;

/// <summary>
/// Whether repeats drift with time, all patches alike, as a drying strip does: a straight line or a decay, against re-placing alone.
/// </summary>
internal sealed class Drying(StripKnowledge knowledge)
{
    private const double Prior = 0.02;

    // A wet strip is off by several hundredths and dries within minutes; from memory.
    private const double Size = 0.04;
    private const double SizePerMinute = 0.03;
    private static readonly double[] Minutes = [0.5, 1.5, 4];

    // Placing moves the colours of a read together, so their mean scatters less than one of them, but not by as much as √3.
    private const double ShareOfMean = 0.6;
    private const int MostRelaxed = 5;

    /// <summary>The suspicion about the whole strip; null without repeats of known time.</summary>
    public Suspicion? Of(ImmutableArray<PatchReads> patches)
    {
        var reads = TimedRead.InOrder(patches).Where(r => !r.Reading.IsEntered).ToList();
        var groups = reads.GroupBy(r => r.Place.PatchKey).Where(g => g.Count() > 1).ToList();
        if (groups.Count == 0)
        {
            return null;
        }

        var start = reads[0].Reading.At;
        List<(double Time, double Value, int Group)> points =
        [
            .. groups.SelectMany((g, i) => g.Select(r => ((r.Reading.At - start).TotalMinutes, Mean(r.Reading.Densities), i))),
        ];
        var values = Centred(points, p => p.Value);
        var shapes = Minutes
            .Select(m => (Centred(points, p => Math.Exp(-p.Time / m)), Size))
            .Append((Centred(points, p => p.Time), SizePerMinute))
            .ToList();
        var freedom = points.Count - groups.Count - 1;
        var known = ShareOfMean * Square(knowledge.Sheet.ChannelsNeeded.Average(knowledge.RepeatabilityOf));
        var evidence = Math.Log(Prior) + Math.Log(shapes.Average(s => Math.Exp(Math.Min(500, LogFactor(values, s.Item1, s.Item2, known, freedom)))));
        return new Suspicion(
            SuspicionKind.NotDry,
            evidence,
            [.. groups.Select(g => g.Key)],
            [],
            "The repeats of all patches drift the same way, as those of a wet strip do. Let the strip dry, and read it again?",
            new Remedy.WaitAndDry());
    }

    /// <summary>
    /// Logarithm of the odds of y = γx + noise, γ ~ N(0, size²), against noise alone. The noise is the known one, or what the reads
    /// scatter about the line where that is more.
    /// </summary>
    internal static double LogFactor(double[] y, double[] x, double size, double known, int freedom)
    {
        var (xx, xy, yy) = (Dot(x, x), Dot(x, y), Dot(y, y));
        if (xx <= 1e-12)
        {
            return 0;
        }

        var about = Math.Max(0, yy - (xy * xy / xx)) / Math.Max(1, freedom);
        var variance = Math.Max(known, freedom > 0 ? Math.Min(about, MostRelaxed * MostRelaxed * known) : known);
        var precision = (1 / (size * size)) + (xx / variance);
        return (-0.5 * Math.Log(size * size * precision)) + (0.5 * Square(xy / variance) / precision);
    }

    private double Mean(ChannelDensities densities) =>
        knowledge.Sheet.ChannelsNeeded.Select(c => densities[c]).Where(d => d is not null).Select(d => d!.Value.ToDouble()).DefaultIfEmpty().Average();

    // What remains after the mean of each patch is taken off.
    private static double[] Centred(List<(double Time, double Value, int Group)> points, Func<(double Time, double Value, int Group), double> of)
    {
        var means = points.GroupBy(p => p.Group).ToDictionary(g => g.Key, g => g.Average(of));
        return [.. points.Select(p => of(p) - means[p.Group])];
    }

    private static double Dot(double[] left, double[] right) => left.Zip(right, (l, r) => l * r).Sum();

    private static double Square(double x) => x * x;
}

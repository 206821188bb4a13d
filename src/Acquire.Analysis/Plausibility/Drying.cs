namespace Acquire.Analysis.Plausibility;

/// <summary>How repeats drift with time if the strip is drying at one pace.</summary>
/// <param name="LogFactor">Logarithm of the odds of drift against re-placing alone, from the repeats only.</param>
/// <param name="Size">How far off the strip was at the first read, as the repeats tell, in density.</param>
/// <param name="Uncertainty">Standard deviation of that.</param>
/// <param name="Shares">What share of it was left when each patch was read, by key of patch.</param>
internal sealed record DryingTrend(double LogFactor, double Size, double Uncertainty, ImmutableDictionary<string, double> Shares);

/// <summary>Whether repeats drift with time, all patches alike, as a drying strip
/// does: an exponential decay, against re-placing alone.</summary>
internal static class Drying
{
    // A wet strip is off by several hundredths and dries within minutes; from memory.
    private const double Size = 0.04;
    private static readonly double[] Minutes = [0.5, 1.5, 4];

    // Placing moves the colours of a read together, so their mean scatters less than one of them, but not by as much as √3.
    private const double ShareOfMean = 0.6;
    private const double MostRelaxed = 25;

    /// <summary>One drift for each pace; none without repeats of known time.</summary>
    public static ImmutableArray<DryingTrend> Of(ImmutableArray<PatchReads> patches, StripKnowledge knowledge)
    {
        var reads =
            TimedRead.InOrder(patches).Where(r => !r.Reading.IsEntered && Mean(r.Reading.Densities, knowledge) is not null).ToList();
        var groups = reads.GroupBy(r => r.Place.PatchKey).ToList();
        if (groups.All(g => g.Count() == 1) || groups.Count == 0)
        {
            return [];
        }

        var start = reads[0].Reading.At;
        List<Point> points =
        [
            .. groups.SelectMany(
                (g, i) => g.Select(r => new Point((r.Reading.At - start).TotalMinutes, Mean(r.Reading.Densities, knowledge)!.Value, i))),
        ];
        var values = Centred(points, p => p.Value);
        var freedom = points.Count - groups.Count - 1;
        var known =
            ShareOfMean * Square(knowledge.Sheet.ChannelsNeeded.Average(c => knowledge.RepeatabilityOf(c, points.Average(p => p.Value))));
        return
        [
            .. Minutes.Select(m =>
            {
                double Left(Point p) => Math.Exp(-p.Time / m);
                var (factor, size, uncertainty) = Fit(values, Centred(points, Left), Size, known, freedom);
                var shares = groups.Select((g, i) => KeyValuePair.Create(g.Key, points.Where(p => p.Group == i).Average(Left)));
                return new DryingTrend(factor, size, uncertainty, shares.ToImmutableDictionary(StringComparer.OrdinalIgnoreCase));
            }),
        ];
    }

    /// <summary>y = γx + noise, γ ~ N(0, size²), against noise alone: logarithm of the odds, and mean and standard deviation of γ
    /// afterwards. The noise is the known one, or what the reads scatter about the line where that is more.</summary>
    internal static (double LogFactor, double Mean, double Deviation) Fit(double[] y, double[] x, double size, double known, int freedom)
    {
        var (xx, xy, yy) = (Dot(x, x), Dot(x, y), Dot(y, y));
        var about = xx <= 1e-12 || freedom <= 0 ? 0 : Math.Max(0, yy - (xy * xy / xx)) / freedom;
        var variance = Math.Max(known, Math.Min(about, MostRelaxed * known));
        var precision = (1 / (size * size)) + (xx / variance);
        return (
            (-0.5 * Math.Log(size * size * precision)) + (0.5 * Square(xy / variance) / precision),
            xy / variance / precision,
            1 / Math.Sqrt(precision));
    }

    private static double? Mean(ChannelDensities densities, StripKnowledge knowledge)
    {
        var values = knowledge.Sheet.ChannelsNeeded.Select(c => densities[c]).ToList();
        return values.All(d => d is not null) ? values.Average(d => d!.Value.ToDouble()) : null;
    }

    // What remains after the mean of each patch is taken off.
    private static double[] Centred(List<Point> points, Func<Point, double> of)
    {
        // The density of each patch is not known, only how its repeats differ.
        var means = points.GroupBy(p => p.Group).ToDictionary(g => g.Key, g => g.Average(of));
        return [.. points.Select(p => of(p) - means[p.Group])];
    }

    private static double Dot(double[] left, double[] right) => left.Zip(right, (l, r) => l * r).Sum();

    private static double Square(double x) => x * x;

    private readonly record struct Point(double Time, double Value, int Group);
}

/// <summary>The strip is drying while it is read: the repeats drift, and the patches that were read first are the farthest off.</summary>
internal sealed class DryingHypotheses(StripModel model)
{
    private const double Prior = 0.01;

    // DryingTrend must show in the repeats themselves: patches that are off in the order of reading may be fogged.
    private const double LeastInRepeats = 0;

    /// <summary>The odds of each pace of drying; the data of the patches are weighed with what the repeats tell of its size.</summary>
    public IEnumerable<Hypothesis> Of(ImmutableArray<DryingTrend> drifts) => drifts
        .Where(d => d.LogFactor >= LeastInRepeats)
        .Select(drift => new Hypothesis(
            null,
            SuspicionKind.NotDry,
            Prior / drifts.Length * Math.Exp(Math.Min(drift.LogFactor, 500)),
            [.. model.Slots],
            "The repeats of all patches drift the same way, as those of a wet strip do. Let the strip dry, and read it again?",
            new Remedy.WaitAndDry(),
            data =>
            {
                double[] left = [.. data.Cells.Select(c => drift.Shares.GetValueOrDefault(model.Patches[c.Slot].Key))];
                return Explanation.Reads(data, model, cell => cell) is { } plain
                    ? plain with { Shift = [.. left.Select(l => drift.Size * l)], Errors = [[.. left.Select(l => drift.Uncertainty * l)]] }
                    : null;
            }));

    /// <summary>The odds from the repeats alone, where there are no aims.</summary>
    public static Suspicion? WithoutAims(ImmutableArray<DryingTrend> drifts) => drifts.IsEmpty
        ? null
        : new Suspicion(
            SuspicionKind.NotDry, Math.Log(Prior) + Math.Log(drifts.Average(d => Math.Exp(Math.Min(d.LogFactor, 500)))),
            [.. drifts[0].Shares.Keys.Order(StringComparer.Ordinal)], [],
            "The repeats of all patches drift the same way, as those of a wet strip do. Let the strip dry, and read it again?",
            new Remedy.WaitAndDry());
}

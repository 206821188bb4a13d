using System.Numerics;

namespace Acquire.Analysis.Statistics;

/// <summary>Analysis of variance of readings in which every level of every factor meets every level of the others equally often, all
/// factors random (R. K. Burdick, C. M. Borror and D. C. Montgomery, <i>Design and Analysis of Gauge R&amp;R Studies</i>, 2005).</summary>
/// <param name="Effects">Factors first, then what pairs of them do together, then triples; what was pooled is not among them.</param>
/// <param name="Residual">Readings within a cell, and the effects that were pooled with them.</param>
public sealed record CrossedVariance(ImmutableArray<CrossedEffect> Effects, SquaresRow Residual)
{
    /// <summary>
    /// An interaction whose F comes out this often by chance is pooled with the scatter of reads (common practice: 0.25).
    /// </summary>
    public const double PoolAbove = 0.25;

    /// <summary>Analyses readings, with all interactions.</summary>
    /// <param name="readings">The level of each factor, counted from 0, and the value.</param>
    /// <exception cref="ArgumentException">A factor has one level, cells differ in size, or a cell has fewer than two readings.</exception>
    public static CrossedVariance Of(IReadOnlyList<(ImmutableArray<int> Levels, double Value)> readings)
    {
        var factors = readings.Count == 0 ? 0 : readings[0].Levels.Length;
        int[] levels = [.. Enumerable.Range(0, factors).Select(f => readings.Max(r => r.Levels[f]) + 1)];
        var cells = levels.Aggregate(1, (a, b) => a * b);
        var sizes = readings.CountBy(r => Place(r.Levels, levels, (1 << factors) - 1)).Select(c => c.Value).ToList();
        if (factors == 0 || levels.Any(l => l < 2) || sizes.Count < cells || sizes.Any(s => s != sizes[0]) || sizes[0] < 2)
        {
            throw new ArgumentException("Every factor needs two levels, and every cell the same number of readings, two at least.",
                nameof(readings));
        }

        // Distances from the first reading, so that a large common part is gone before anything is squared.
        var means = Enumerable.Range(0, 1 << factors)
            .Select(e => readings.GroupBy(r => Place(r.Levels, levels, e))
                .ToDictionary(g => g.Key, g => CompensatedSum.Of(g.Select(r => r.Value - readings[0].Value)) / g.Count()))
            .ToArray();
        double Own(ImmutableArray<int> at, int effect) => Within(effect).Append(effect)
            .Sum(b => (BitOperations.PopCount((uint)(effect ^ b)) % 2 == 0 ? 1 : -1) * means[b][Place(at, levels, b)]);

        var all = (1 << factors) - 1;
        var residual = CompensatedSum.Of(readings.Select(r =>
            Math.Pow(r.Value - readings[0].Value - means[all][Place(r.Levels, levels, all)], 2)));
        var effects = Enumerable.Range(1, all).OrderBy(e => BitOperations.PopCount((uint)e)).ThenBy(e => e).Select(effect =>
        {
            var mine = Enumerable.Range(0, factors).Where(f => ((effect >> f) & 1) == 1).Select(f => levels[f]).ToList();
            return new CrossedEffect(
                effect,
                new SquaresRow(
                    CompensatedSum.Of(readings.Select(r => Math.Pow(Own(r.Levels, effect), 2))),
                    mine.Aggregate(1, (product, l) => product * (l - 1))),
                readings.Count / (double)mine.Aggregate(1, (product, l) => product * l));
        });
        return new CrossedVariance([], new SquaresRow(residual, readings.Count - cells)).With([.. effects]);
    }

    /// <summary>Without any interaction: all of them pooled with the scatter of reads.</summary>
    public CrossedVariance Additive() => Pool([.. Effects.Where(e => !e.IsMain)]);

    /// <summary>Pools the interactions that chance explains, one after another: the one that chance explains best first, and never one of
    /// which a larger one is left.</summary>
    public CrossedVariance Pooled()
    {
        var weakest = Effects
            .Where(e => !e.IsMain && (e.P ?? 1) > PoolAbove && !Effects.Any(o => o.Factors != e.Factors && o.Holds(e)))
            .MaxBy(e => e.P ?? 1);
        return weakest is null ? this : Pool([weakest]).Pooled();
    }

    /// <summary>Sum of the components of some effects, and the scatter of reads where it is wanted.</summary>
    public MeanSquares Sum(Func<CrossedEffect, bool> which, bool residual)
    {
        var parts = Effects.Where(which).SelectMany(e => e.Component.Terms);
        return Gather(residual ? parts.Append((1, Residual, 0)) : parts);
    }

    private CrossedVariance Pool(ImmutableArray<CrossedEffect> gone) =>
        (this with { Residual = gone.Aggregate(Residual, (sum, e) => sum + e.Row) }).With([.. Effects.Except(gone)]);

    /// <summary>Finds what each mean square is held against, from the largest interactions down: E(MS of A) = σ² of reads + Σ over the
    /// effects B that hold A, n of B · σ² of B.</summary>
    private CrossedVariance With(ImmutableArray<CrossedEffect> effects)
    {
        var done = new List<CrossedEffect>();
        foreach (var effect in effects.Reverse())
        {
            var against = Gather(done.Where(e => e.Holds(effect))
                .SelectMany(e => e.Component.Terms.Select(t => (t.Weight * e.Readings, t.Row, t.Of)))
                .Append((1, Residual, 0)));
            done.Add(effect with { Against = against });
        }

        return this with { Effects = [.. done.AsEnumerable().Reverse()] };
    }

    private static MeanSquares Gather(IEnumerable<(double Weight, SquaresRow Row, int Of)> terms) => new(
    [
        .. terms.GroupBy(t => (t.Row, t.Of), t => t.Weight)
            .Select(g => (Weight: g.Sum(), g.Key.Row, g.Key.Of))
            .Where(t => Math.Abs(t.Weight) > 1e-12),
    ]);

    private static int Place(ImmutableArray<int> at, int[] levels, int effect)
    {
        var place = 0;
        for (var f = 0; f < levels.Length; f++)
        {
            place = ((effect >> f) & 1) == 1 ? (place * levels[f]) + at[f] : place;
        }

        return place;
    }

    private static IEnumerable<int> Within(int effect) => Enumerable.Range(0, effect).Where(b => (b & effect) == b);
}

/// <summary>A factor, or what several do together.</summary>
/// <param name="Factors">A bit for each factor.</param>
/// <param name="Readings">How many readings are of one of its cells.</param>
public sealed record CrossedEffect(int Factors, SquaresRow Row, double Readings)
{
    /// <summary>What its mean square would be expected to be if it had no variance of its own.</summary>
    public MeanSquares Against { get; init; } = new([]);

    /// <summary>Its variance component, in the square of the readings' unit; may come out below 0.</summary>
    public MeanSquares Component => new(
        [(1 / Readings, Row, Factors), .. Against.Terms.Select(t => (-t.Weight / Readings, t.Row, t.Of))]);

    public bool IsMain => BitOperations.IsPow2(Factors);

    /// <summary>Mean square over what it is held against; null where that is not above 0.</summary>
    public double? F => Against.Value is > 0 and var against ? Row.MeanSquare / against : null;

    /// <summary>Chance of an F this large when it has no variance of its own; 0 where nothing else scatters, null without F.</summary>
    public double? P => F is { } f ? Quantiles.FisherTail(f, Row.DegreesOfFreedom, Against.DegreesOfFreedom)
        : Against.Value == 0 && Row.SumOfSquares > 0 ? 0 : null;

    /// <summary>Whether every factor of another effect is one of its own.</summary>
    public bool Holds(CrossedEffect other) => (Factors & other.Factors) == other.Factors;
}

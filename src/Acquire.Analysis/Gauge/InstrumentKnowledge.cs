using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Gauge;

/// <summary>
/// What is known of how an instrument repeats: the standard deviation of one re-placed read by channel and density. It is made of all
/// repeats there are of it, whatever they were read for, and of an assumption that gives way to them.
/// </summary>
/// <remarks>
/// s(D)² = σ² (1 + k² D²) with a σ for each channel and one k for all. The variance of a channel is pooled over its repeats, each brought
/// to density 0, weighted by degrees of freedom; the assumption counts like repeats of a few degrees of freedom (a scaled inverse χ²), with
/// a weight that falls to none as own ones come. k is <see cref="ScatterGrowth"/>'s; that it is an estimate is not counted again.
/// </remarks>
public sealed class InstrumentKnowledge
{
    private readonly ImmutableArray<PatchRepeats> _repeats;
    private readonly ImmutableDictionary<Channel, Pool> _pools;

    private InstrumentKnowledge(string name, ImmutableArray<PatchRepeats> repeats, Assumptions assumptions)
    {
        (Name, _repeats, Assumptions) = (name, repeats, assumptions);
        Growth = ScatterGrowth.Of(repeats, assumptions);
        _pools = repeats.GroupBy(r => r.Channel).ToImmutableDictionary(g => g.Key, g => Pool.Of(g, Growth));
    }

    /// <summary>
    /// What tells it from others: errors that rest on one knowledge are large or small together.
    /// </summary>
    public string Name { get; }

    public Assumptions Assumptions { get; }

    /// <summary>k of s(D)² = σ² (1 + k² D²).</summary>
    public double Growth { get; }

    /// <summary>Makes it of repeats.</summary>
    /// <param name="name">Of the instrument, such as its device profile.</param>
    /// <param name="repeats">Every patch that was read more than once, or sums of such.</param>
    public static InstrumentKnowledge Of(string name, IEnumerable<PatchRepeats> repeats, Assumptions? assumptions = null) =>
        new(name, [.. repeats.Where(r => r.DegreesOfFreedom > 0)], assumptions ?? Assumptions.Default);

    /// <summary>
    /// By the record of one strip alone: its own repeats, and the repeatability test that it says was in force. The record does not keep at
    /// which densities that test was made, so its scatter counts at all of them alike.
    /// </summary>
    public static InstrumentKnowledge Of(StripRecord strip, Assumptions? assumptions = null) =>
        Of(
            strip.Provenance.Instrument?.Profile ?? "",
            PatchRepeats.Of(strip.Means).Concat(PatchRepeats.Of(strip.Repeatability)),
            assumptions);

    /// <summary>The coarsest display step of the reads that it is made of, in density; null when it is made of none.</summary>
    public double? Step => _repeats.Max(r => r.Step);

    /// <summary>Name of what is known of one channel, for a budget.</summary>
    internal string EstimateOf(Channel channel) => $"{Name} {channel.Word()}";

    /// <summary>The same with more repeats.</summary>
    public InstrumentKnowledge With(IEnumerable<PatchRepeats> more)
    {
        ImmutableArray<PatchRepeats> all = [.. _repeats, .. more.Where(r => r.DegreesOfFreedom > 0)];
        return all.Length == _repeats.Length ? this : new InstrumentKnowledge(Name, all, Assumptions);
    }

    /// <summary>Whether another is made of the same.</summary>
    public bool IsAs(InstrumentKnowledge other) => Assumptions == other.Assumptions && _repeats.SequenceEqual(other._repeats);

    /// <summary>Degrees of freedom of own repeats in a channel.</summary>
    public double OwnFreedom(Channel channel) => _pools.TryGetValue(channel, out var pool) ? pool.DegreesOfFreedom : 0;

    /// <summary>How one re-placed read scatters.</summary>
    public ReadScatter At(Channel channel, double density)
    {
        var pool = _pools.GetValueOrDefault(channel);
        var weight = Assumptions.Weight(pool.DegreesOfFreedom);
        var assumed = weight * Assumptions.RepeatabilityFreedom;
        var freedom = pool.DegreesOfFreedom + assumed;
        // Scatter is not taken for less at densities that nobody has repeated than at the thinnest that somebody has.
        var factor = ScatterGrowth.Factor(Growth, Math.Max(density, pool.Thinnest));
        var squares = (factor * (pool.Squares + (assumed * Assumptions.Repeatability * Assumptions.Repeatability))) + pool.Everywhere;
        return new ReadScatter(Math.Sqrt(squares / freedom), freedom, weight > 0);
    }

    /// <summary>Sums of one channel.</summary>
    /// <param name="Squares">Σ ν s², brought to density 0.</param>
    /// <param name="Everywhere">Σ ν s² of repeats that do not say at which density.</param>
    private readonly record struct Pool(double Squares, double Everywhere, double DegreesOfFreedom, double Thinnest)
    {
        public static Pool Of(IEnumerable<PatchRepeats> repeats, double growth)
        {
            var pool = new Pool(0, 0, 0, double.PositiveInfinity);
            foreach (var r in repeats)
            {
                var squares = r.DegreesOfFreedom * r.StandardDeviation * r.StandardDeviation;
                pool = r.Density is { } density
                    ? pool with
                    {
                        Squares = pool.Squares + (squares / ScatterGrowth.Factor(growth, density)),
                        Thinnest = Math.Min(pool.Thinnest, density),
                    }
                    : pool with { Everywhere = pool.Everywhere + squares };
                pool = pool with { DegreesOfFreedom = pool.DegreesOfFreedom + r.DegreesOfFreedom };
            }

            return double.IsPositiveInfinity(pool.Thinnest) ? pool with { Thinnest = 0 } : pool;
        }
    }
}

/// <summary>How one re-placed read scatters at a density.</summary>
/// <param name="StandardDeviation">In density.</param>
/// <param name="DegreesOfFreedom">How well it is known; above 0.</param>
/// <param name="IsAssumed">Whether an assumption still has weight in it.</param>
public readonly record struct ReadScatter(double StandardDeviation, double DegreesOfFreedom, bool IsAssumed)
{
    private const double Disagree = 0.001;

    /// <summary>
    /// Whether reads scatter so little that a display step of so much counts beside their scatter: by less than half of it.
    /// </summary>
    // Three equal reads and one a step away scatter by exactly half a step, which binary arithmetic may miss by a hair.
    public bool HidesBelow(double step) => StandardDeviation < step / 2 * (1 - 1e-9);

    /// <summary>What counts for a patch whose own reads disagree by more than chance explains once in a thousand (F test): their own
    /// scatter. Something was met there that the instrument does not do elsewhere.</summary>
    public ReadScatter For(PatchMean mean) => mean is { Reads: > 1, StandardDeviation: { } own } && own > StandardDeviation
        && StandardDeviation > 0
        && Quantiles.FisherTail(own * own / (StandardDeviation * StandardDeviation), mean.Reads - 1, DegreesOfFreedom) < Disagree
            ? new ReadScatter(own, mean.Reads - 1, false)
            : this;

    /// <summary>Variance of a mean of so many reads, in density squared: s²/n, and d²/12 where the step hides the scatter.</summary>
    public double VarianceOfMean(double reads, double step) =>
        (StandardDeviation * StandardDeviation / reads) + (HidesBelow(step) ? step * step / 12 : 0);
}

/// <summary>The scatter of re-placed reads of one patch in one channel, or of several patches of about one density.</summary>
/// <param name="Density">Where; null when that is not known.</param>
/// <param name="StandardDeviation">Of one read, as shown, in density.</param>
public readonly record struct PatchRepeats(Channel Channel, double? Density, double StandardDeviation, double DegreesOfFreedom)
{
    /// <summary>Display step of the reads, in density; null when that is not known.</summary>
    public double? Step { get; init; }

    /// <summary>Reads of one patch that scatter by more are no scatter of placing: another patch, dust, an edge (common practice, no
    /// source). They would spoil every later uncertainty. Density.</summary>
    public const double NoScatter = 0.05;

    /// <summary>Of the means of one record; patches read once tell nothing, and such that scatter beyond belief tell of something
    /// else.</summary>
    public static IEnumerable<PatchRepeats> Of(IEnumerable<PatchMean> means) => means
        .Where(m => m is { Reads: > 1, StandardDeviation: <= NoScatter })
        .Select(m => new PatchRepeats(m.Channel, m.Mean, m.StandardDeviation!.Value, m.Reads - 1) { Step = m.Resolution });

    /// <summary>Of reads that were placed anew each time.</summary>
    public static IEnumerable<PatchRepeats> Of(ImmutableArray<PatchReads> patches) => Of(PatchMeans.Of(patches));

    /// <summary>Of a repeatability test; patches that were never placed anew tell nothing of placing.</summary>
    public static IEnumerable<PatchRepeats> Of(RepeatabilityTest test) =>
        from channel in RepeatabilityStudy.Of(test).Channels
        from patch in channel.Patches
        let scatter = patch.Scatter
        where scatter is not null && !(test.ReadsPerPlacement > 1 && patch.NeverPlacedAnew)
        select new PatchRepeats(channel.Channel, patch.Level, scatter.S, scatter.DegreesOfFreedom) { Step = scatter.Resolution };

    /// <summary>Of what a strip record keeps of a test.</summary>
    public static IEnumerable<PatchRepeats> Of(RepeatabilityInForce? told) =>
        told is null ? [] : told.Channels.Select(c => new PatchRepeats(c.Channel, null, c.StandardDeviation, c.DegreesOfFreedom));
}

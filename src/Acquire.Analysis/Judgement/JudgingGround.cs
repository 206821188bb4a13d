using Acquire.Analysis.Gauge;

namespace Acquire.Analysis.Judgement;

/// <summary>What is known when a strip is judged, beyond its record: of its instrument, of its aims and of the zero.</summary>
/// <param name="Instrument">Of the instrument that read the strip, the strip's own repeats included.</param>
/// <param name="Aims">How the lot's reference was read; null when that is not at hand, and then the aims' own uncertainties count.</param>
/// <param name="Setting">How far the zero of that instrument moves from one sitting to the next.</param>
/// <param name="Zero">How far it may have moved between reference and strip.</param>
public sealed record JudgingGround(InstrumentKnowledge Instrument, AimKnowledge? Aims, ZeroKnowledge Setting, ZeroBetween Zero)
{
    /// <summary>By the record alone: its own repeats, the test that it names, and for the rest the assumption.</summary>
    public static JudgingGround Of(StripRecord strip, Assumptions? assumptions = null)
    {
        var zero = ZeroKnowledge.Nothing(assumptions ?? Assumptions.Default);
        return new JudgingGround(InstrumentKnowledge.Of(strip, assumptions), null, zero, ZeroBetween.OfSittings(zero, zero));
    }

    /// <summary>What the aim of a patch may be wrong by.</summary>
    internal ErrorPart OfAim(Aim aim, PatchMean mean)
    {
        // A crossover has moved the aim, and with it what it rests on.
        if (aim.Adjustment == 0 && Aims?.Of(aim.PatchKey, aim.Channel) is { } known)
        {
            return known;
        }

        // A stored uncertainty of the display step alone knows nothing of how the reference was read; once is what can be counted on.
        var scatter = Instrument.At(aim.Channel, aim.Reference);
        var stored = aim.StandardUncertainty * aim.StandardUncertainty;
        var least = stored <= mean.Resolution * mean.Resolution / 12 * (1 + 1e-6)
            ? MeanUncertainty.Of(mean, scatter, reads: 1) is var once ? once.StandardUncertainty * once.StandardUncertainty : 0
            : stored;

        // Where the strip rests on an assumption, a stored aim most likely does so too.
        return scatter.IsAssumed || least > stored
            ? new ErrorPart(least, scatter.DegreesOfFreedom, Instrument.EstimateOf(aim.Channel), scatter.IsAssumed)
            : new ErrorPart(stored, double.PositiveInfinity, null, false);
    }
}

/// <summary>What the aims of a lot may be wrong by, from how its reference was read and what is known of the instrument.</summary>
public sealed class AimKnowledge
{
    private readonly Dictionary<(string Patch, Channel Channel), ErrorPart> _parts;

    private AimKnowledge(IEnumerable<(PatchMean Mean, ErrorPart Part)> parts) =>
        _parts = parts.ToDictionary(p => (p.Mean.PatchKey.ToUpperInvariant(), p.Mean.Channel), p => p.Part);

    /// <summary>Of a reference: its repeats are in what is known of the instrument already.</summary>
    /// <param name="instrument">The instrument that it was read with.</param>
    public static AimKnowledge Of(LotReference reference, InstrumentKnowledge instrument) =>
        new(PatchMeans.Of(reference.Patches).Select(m => (m, Part(m, reference.Origin, instrument))));

    /// <summary>Of means that serve as aims, such as those of an earlier strip.</summary>
    public static AimKnowledge Of(IEnumerable<PatchMean> means, InstrumentKnowledge instrument) =>
        new(means.Select(m => (m, Part(m, null, instrument))));

    /// <summary>Standard uncertainty of an aim, in density; null for a patch that has none.</summary>
    public double? UncertaintyOf(string patchKey, Channel channel) => Of(patchKey, channel) is { } part ? Math.Sqrt(part.Variance) : null;

    internal ErrorPart? Of(string patchKey, Channel channel) =>
        _parts.TryGetValue((patchKey.ToUpperInvariant(), channel), out var part) ? part : null;

    private static ErrorPart Part(PatchMean mean, ReferenceOrigin? origin, InstrumentKnowledge instrument)
    {
        if (origin is { ListUncertainty: { } list })
        {
            return new ErrorPart((list * list) + (mean.Resolution * mean.Resolution / 12), double.PositiveInfinity, null, false);
        }

        // A mean of several reads is typed with more digits than the display has; the display's step is what was rounded to.
        var behind = origin?.Reads ?? 1;
        var uncertainty = MeanUncertainty.Of(
            mean, instrument.At(mean.Channel, mean.Mean).For(mean), mean.Reads * behind, behind > 1 ? instrument.Step : null);
        var (basis, scatter) = (uncertainty.Basis, uncertainty.Basis.ReadVariance);
        var variance = scatter + basis.StepVariance;
        // Welch and Satterthwaite, the step being known for certain.
        return new ErrorPart(
            variance, scatter > 0 ? basis.Scatter.DegreesOfFreedom * Math.Pow(variance / scatter, 2) : double.PositiveInfinity,
            instrument.EstimateOf(mean.Channel), basis.Scatter.IsAssumed);
    }
}

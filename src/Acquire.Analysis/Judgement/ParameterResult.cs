using Acquire.Analysis.Gauge;
using Acquire.Analysis.Uncertainty;

namespace Acquire.Analysis.Judgement;

/// <summary>One parameter of a strip in one channel, compared with its aim. All
/// numbers are in the parameter's unit, mostly density.</summary>
public sealed record ParameterResult
{
    /// <summary>The parameter, with its limits.</summary>
    public required Parameter Parameter { get; init; }

    /// <summary>The channel; null for a spread over the colours.</summary>
    public Channel? Channel { get; init; }

    /// <summary>What it is called in a sentence.</summary>
    public string Label => Parameter.NameIn(Channel);

    /// <summary>The strip's value; null when a patch has no mean.</summary>
    public double? Value { get; init; }

    /// <summary>The aim; null when there is none. The aim of a spread is 0.</summary>
    public double? Aim { get; init; }

    /// <summary>Value minus aim; null when one of them is.</summary>
    public double? Deviation { get; init; }

    /// <summary>Standard uncertainty of the deviation, the strip's and the aim's part together, to first order and as if all patch means
    /// were independent; null when there is no deviation.</summary>
    public double? StandardUncertainty { get; init; }

    /// <summary>The part of it that reading the strip adds. The aim's part is the same for every strip
    /// of a lot: it counts in a verdict and is no scatter.</summary>
    public double? ReadingUncertainty { get; init; }

    /// <summary>What reading adds at the least, by what was seen: where how reads repeat is assumed, the display step alone. A history
    /// must not be taken for quieter than this; an assumption would blind it to what it shows.</summary>
    public double? LeastReadingUncertainty { get; init; }

    /// <summary>The part that the zero of the strip's sitting adds, which all patches of the strip share; 0 where it cancels.</summary>
    public double? ZeroUncertainty { get; init; }

    /// <summary>The part of the aim, with the zero that its reference was read at: the same for every strip of the lot.</summary>
    public double? AimUncertainty { get; init; }

    /// <summary>What the uncertainty is made of; null when there is no deviation.</summary>
    public Budget? Budget { get; init; }

    /// <summary>The verdict with the uncertainty counted in; null when there is no deviation or no limit.</summary>
    public VerdictResult? Verdict { get; init; }

    /// <summary>What of the uncertainty rests on an assumption, and not on what was seen of the instrument.</summary>
    public Assumed RestsOnAssumption => AssumptionLine.In(Budget);

    /// <summary>The zone by plain comparison; null when there is no deviation or no limit.</summary>
    public Zone? Zone { get; init; }

    /// <summary>Why the value, the aim or the zone is missing, for the user; null when nothing is.</summary>
    public string? WhyMissing { get; init; }

    /// <summary>Whether the strip has the patches that the parameter is taken of.
    /// What is not on a strip is no gap in its judgement.</summary>
    public bool OnStrip { get; init; } = true;

    /// <summary>The limits in its channel.</summary>
    public ParameterLimits Limits => Parameter.LimitsIn(Channel);

    /// <summary>What the strip's part of the uncertainty rests on, one entry for each patch mean that went in.</summary>
    public ImmutableArray<UncertaintyBasis> RestsOn { get; init; } = [];

    /// <summary>The details of a colour spread; null for other parameters, and when the spread is missing.</summary>
    public SpreadResult? Spread { get; init; }

    /// <summary>What a speed point means by ISO 6; null for other parameters, and for points at another density.</summary>
    public SpeedResult? Speed { get; init; }
}

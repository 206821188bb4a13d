using Acquire.Analysis.Gauge;
using Acquire.Analysis.Uncertainty;

namespace Acquire.Analysis.Judgement;

/// <summary>How far the instrument's zero may have moved between reading the reference and reading the strip.</summary>
/// <param name="OfStrip">Standard uncertainty of the zero while the strip was read, in density.</param>
/// <param name="OfReference">Of the zero while the reference was read: the same for every strip of the lot.</param>
/// <param name="DegreesOfFreedom">How well both are known.</param>
/// <param name="IsAssumed">Whether an assumption has weight in them.</param>
/// <param name="Name">What it is, for the user.</param>
public sealed record ZeroBetween(double OfStrip, double OfReference, double DegreesOfFreedom, bool IsAssumed, string Name)
{
    private const string Anew = "zero set anew";

    /// <summary>Both were read at one sitting: an error of zero is then in strip and aim alike, and cancels.</summary>
    public static ZeroBetween None { get; } = new(0, 0, double.PositiveInfinity, false, Anew);

    /// <summary>Under a calibration check in force for the strip.</summary>
    /// <param name="shared">Whether the reference was read under the same one: then the zero cancels.</param>
    /// <param name="tolerance">Otherwise the zero may have been off by up to the check's tolerance, in density: a rectangular distribution,
    /// u = tolerance/√3 (GUM, JCGM 100:2008, 4.3.7).</param>
    public static ZeroBetween OfChecks(bool shared, double tolerance) =>
        new(shared ? 0 : tolerance / Math.Sqrt(3), 0, double.PositiveInfinity, false, "zero between calibrations");

    /// <summary>Without a check: each sitting has a zero of its own.</summary>
    /// <param name="reference">What is known of the zero of the instrument that read the reference; null when none did.</param>
    public static ZeroBetween OfSittings(ZeroKnowledge strip, ZeroKnowledge? reference) => new(
        strip.StandardUncertainty, reference?.StandardUncertainty ?? 0,
        Math.Min(strip.DegreesOfFreedom, reference?.DegreesOfFreedom ?? double.PositiveInfinity),
        strip.IsAssumed || reference is { IsAssumed: true }, Anew);

    internal Component ToComponent(double share) => new(
        IsAssumed ? $"{Name}, assumed" : Name, share * Math.Sqrt((OfStrip * OfStrip) + (OfReference * OfReference)), DegreesOfFreedom)
    {
        Of = Doubt.Zero,
        IsAssumed = IsAssumed,
    };
}

namespace Acquire.Analysis.Judgement;

/// <summary>Speed of black-and-white negative film for pictures after ISO 6. The figures are values from memory, not verified against the
/// standard; its exposure, its processing and its rounding to a series of speeds are not the business of a control strip.</summary>
public static class Iso6
{
    /// <summary>Density above base and fog at the speed point.</summary>
    public const double SpeedDensity = 0.10;

    /// <summary>Log exposure from the speed point to the second point.</summary>
    public const double LogExposureRange = 1.30;

    /// <summary>How much denser the second point must be.</summary>
    public const double DensityRise = 0.80;

    /// <summary>How far the rise may be off.</summary>
    public const double RiseTolerance = 0.05;

    private const double Factor = 0.8;

    /// <summary>S = 0.8 / Hm.</summary>
    /// <param name="exposure">Hm, the exposure at the speed point, in lux seconds.</param>
    /// <exception cref="ImpossibleValueException">The exposure is not above zero, or not finite.</exception>
    public static double Speed(double exposure) => exposure > 0 && double.IsFinite(exposure)
        ? Factor / exposure
        : throw new ImpossibleValueException($"A speed needs an exposure above 0 lx·s, not {exposure}.");

    /// <summary>Whether the contrast is that for which the speed is defined; on the edge of the tolerance it is.</summary>
    public static bool Fits(double densityRise) => Math.Abs(densityRise - DensityRise) <= RiseTolerance + 1e-9;

    internal static SpeedResult Of(CharacteristicCurve curve, double logHm, ExposureScale scale)
    {
        var rise = curve.DensityAt(logHm + LogExposureRange).Value - curve.DensityAt(logHm).Value;
        return new SpeedResult(
            scale is ExposureScale.LuxSeconds ? Speed(Math.Pow(10, logHm)) : null, rise, rise is { } r ? Fits(r) : null);
    }
}

/// <summary>What a speed point 0.10 above D-min means by ISO 6 (values from memory).</summary>
/// <param name="Speed">S = 0.8 / Hm; null where the exposures are relative, so
/// that only the shift of the speed point means something.</param>
/// <param name="DensityRise">Density gained over 1.30 log H from the speed point; null when the strip ends before.</param>
/// <param name="Fits">Whether that is 0.80 ± 0.05, the contrast for which the speed is defined; null when it is not known.</param>
public sealed record SpeedResult(double? Speed, double? DensityRise, bool? Fits);

using Acquire.Analysis.Uncertainty;

namespace Acquire.Analysis.Judgement;

/// <summary>What a deviation may be wrong by, cause by cause. Variances are in the square of its unit.</summary>
/// <param name="Reading">Of re-placed reads; goes down with their number.</param>
/// <param name="ReadingFreedom">Degrees of freedom that the repeatability is known with; infinite when nothing is known of it.</param>
/// <param name="Step">Of the display's last digit, where reads do not scatter across it.</param>
/// <param name="FromReference">Of the reference strip's reading: the same for every strip of the lot.</param>
/// <param name="ZeroShare">
/// How much of a common error of zero the deviation has: 1 for a patch, 0 for a difference of two, which cancels it.
/// </param>
internal readonly record struct ErrorParts(double Reading, double ReadingFreedom, double Step, double FromReference, double ZeroShare)
{
    public const string Zero = "zero between calibrations";
    public const string Reference = "reading of the reference strip";
    public const string Reads = "re-placed reads";

    public double Variance => Reading + Step + FromReference;

    /// <summary>
    /// Both errors together, of what is taken away from each other. The same repeatability is behind both, so its freedom stays.
    /// </summary>
    public static ErrorParts operator -(ErrorParts left, ErrorParts right) => new(
        left.Reading + right.Reading,
        Math.Min(left.ReadingFreedom, right.ReadingFreedom),
        left.Step + right.Step,
        left.FromReference + right.FromReference,
        left.ZeroShare - right.ZeroShare);

    /// <summary>The budget of the deviation.</summary>
    /// <param name="calibration">What zero may have moved by between reference and strip; null when nothing is known of it.</param>
    public Budget ToBudget(CalibrationState? calibration)
    {
        var zero = calibration is { IsShared: false } ? ZeroShare * calibration.Tolerance / Math.Sqrt(3) : 0;
        return new Budget(
        [
            new Component(Reads, Math.Sqrt(Reading), ReadingFreedom),
            new Component("display step", Math.Sqrt(Step)),
            new Component(Reference, Math.Sqrt(FromReference)),
            .. calibration is null ? [] : (Component[])[new Component(Zero, zero)],
        ]);
    }
}

namespace Acquire.Analysis.Gauge;

/// <summary>What a calibration check tells.</summary>
/// <param name="Channels">Channel by channel, in the usual order.</param>
/// <param name="Verdict">Fail when a channel fails, pass when all pass.</param>
/// <param name="Notes">What the user should know of the numbers, in words.</param>
public sealed record CalibrationReport(ImmutableArray<ChannelCalibration> Channels, CheckVerdict Verdict, ImmutableArray<string> Notes)
{
    /// <summary>A channel; null when it was not checked.</summary>
    public ChannelCalibration? this[Channel channel] => Channels.FirstOrDefault(c => c.Channel == channel);
}

/// <summary>A calibration check in one channel.</summary>
/// <param name="Patches">Patch by patch, along the plaque.</param>
/// <param name="Zero">Reading at density 0 by the straight line, weighted by the uncertainties; with fewer than three patches
/// the mean error, a slope of 1 being taken for granted.</param>
/// <param name="Slope">Reading per certified density; null with fewer than three patches.</param>
/// <param name="Verdict">Fail when a patch fails, pass when all pass.</param>
/// <param name="Cause">What is off.</param>
/// <param name="Advice">What to do, in words.</param>
public sealed record ChannelCalibration(
    Channel Channel, ImmutableArray<PlaqueError> Patches, Adjustment Zero, Adjustment? Slope, CheckVerdict Verdict,
    CalibrationFault Cause, string Advice);

/// <summary>One certified patch in one channel, read.</summary>
/// <param name="Patch">Key of the patch.</param>
/// <param name="Certified">Certified density.</param>
/// <param name="Mean">Mean of the reads.</param>
/// <param name="Reads">How many reads.</param>
/// <param name="Error">Mean minus certified density.</param>
/// <param name="StandardUncertainty">Of the error: scatter of the reads s/√n, display step, certificate.</param>
/// <param name="IsInside">Whether the error is inside the tolerance by plain comparison; on it is inside.</param>
/// <param name="ProbabilityInside">Probability that the true error is inside the tolerance (JCGM 106:2012, clause 7).</param>
/// <param name="Verdict">Pass at 95 % or more, fail at 5 % or less.</param>
public sealed record PlaqueError(
    string Patch, Channel Channel, double Certified, double Mean, int Reads, double Error, double StandardUncertainty,
    bool IsInside, double ProbabilityInside, CheckVerdict Verdict);

/// <summary>A zero or a slope as the readings show it, with its 95 % interval.</summary>
/// <param name="Value">The estimate: a density for a zero, reading per certified density for a slope.</param>
/// <param name="Low">Lower end.</param>
/// <param name="High">Upper end.</param>
public readonly record struct Adjustment(double Value, double Low, double High)
{
    internal static Adjustment About(double value, double margin) => new(value, value - margin, value + margin);

    /// <summary>Whether the interval holds a value.</summary>
    public bool Holds(double value) => value >= Low && value <= High;
}

/// <summary>What is off in a calibration check.</summary>
public enum CalibrationFault
{
    /// <summary>Nothing that the readings show.</summary>
    None,

    /// <summary>All patches by the same amount.</summary>
    Zero,

    /// <summary>The more, the denser the patch.</summary>
    Slope,

    /// <summary>Both of these.</summary>
    ZeroAndSlope,

    /// <summary>One patch alone.</summary>
    OnePatch,

    /// <summary>Something, but neither a zero, nor a slope, nor one patch explains it.</summary>
    Scattered,
}

/// <summary>What a calibration check says at 95 % probability.</summary>
public enum CheckVerdict
{
    /// <summary>The true error is inside the tolerance.</summary>
    Pass,

    /// <summary>The readings cannot tell.</summary>
    Undecided,

    /// <summary>The true error is outside the tolerance.</summary>
    Fail,
}

namespace Acquire.Analysis.Gauge;

/// <summary>A calibration check in one channel.</summary>
/// <param name="Channel">The channel.</param>
/// <param name="Patches">Patch by patch, along the plaque.</param>
/// <param name="Zero">
/// Reading at density 0 by the straight line, weighted by the uncertainties; with fewer than three patches the mean error, a slope of 1 being taken for granted.
/// </param>
/// <param name="Slope">Reading per certified density; null with fewer than three patches.</param>
/// <param name="Verdict">Fail when a patch fails, pass when all pass.</param>
/// <param name="Cause">What is off.</param>
/// <param name="Advice">What to do, in words.</param>
public sealed record ChannelCalibration(
    Channel Channel,
    ImmutableArray<PlaqueError> Patches,
    Adjustment Zero,
    Adjustment? Slope,
    CheckVerdict Verdict,
    CalibrationFault Cause,
    string Advice);

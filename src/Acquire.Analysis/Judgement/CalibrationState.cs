namespace Acquire.Analysis.Judgement;

/// <summary>What is known of the instrument's zero between reading the reference and reading the strip.</summary>
/// <param name="IsShared">
/// Whether both were read under one calibration: an error of zero is then in strip and aim alike, and cancels.
/// </param>
/// <param name="Tolerance">
/// Otherwise the zero may have been off by up to the check's tolerance: a rectangular distribution, u = tolerance/√3 (GUM, JCGM 100:2008,
/// 4.3.7). Density.
/// </param>
public sealed record CalibrationState(bool IsShared, double Tolerance);

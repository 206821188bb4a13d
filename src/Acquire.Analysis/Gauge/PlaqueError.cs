namespace Acquire.Analysis.Gauge;

/// <summary>One certified patch in one channel, read.</summary>
/// <param name="Patch">Key of the patch.</param>
/// <param name="Channel">The channel.</param>
/// <param name="Certified">Certified density.</param>
/// <param name="Mean">Mean of the reads.</param>
/// <param name="Reads">How many reads.</param>
/// <param name="Error">Mean minus certified density.</param>
/// <param name="StandardUncertainty">Of the error: scatter of the reads s/√n, display step, certificate.</param>
/// <param name="IsInside">Whether the error is inside the tolerance by plain comparison; on it is inside.</param>
/// <param name="ProbabilityInside">Probability that the true error is inside the tolerance (JCGM 106:2012, clause 7).</param>
/// <param name="Verdict">Pass at 95 % or more, fail at 5 % or less.</param>
public sealed record PlaqueError(
    string Patch,
    Channel Channel,
    double Certified,
    double Mean,
    int Reads,
    double Error,
    double StandardUncertainty,
    bool IsInside,
    double ProbabilityInside,
    CheckVerdict Verdict);

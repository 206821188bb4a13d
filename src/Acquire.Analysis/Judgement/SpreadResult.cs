namespace Acquire.Analysis.Judgement;

/// <summary>
/// How the colours lie to each other. Published definitions of colour spread differ; the spread here is the largest minus the
/// smallest of the three deviations, and the differences against green are given beside it. All are densities.
/// </summary>
/// <param name="RedMinusGreen">Deviation in red minus deviation in green.</param>
/// <param name="BlueMinusGreen">Deviation in blue minus deviation in green.</param>
/// <param name="FromReadingNoise">
/// The mean spread that a perfect process would show by the uncertainty of the deviations alone:
/// d2(3) = 1.693 times the root mean square of the three standard uncertainties, taken as independent.
/// </param>
public sealed record SpreadResult(double RedMinusGreen, double BlueMinusGreen, double FromReadingNoise);

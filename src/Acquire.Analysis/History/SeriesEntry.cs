namespace Acquire.Analysis.History;

/// <summary>One value of a series of deviations.</summary>
/// <param name="Strip">The strip it is of.</param>
/// <param name="Deviation">Deviation from aim.</param>
/// <param name="ReadingUncertainty">
/// Standard uncertainty of reading the strip alone: the aim's part is the same for every strip of a lot, so it counts in a verdict and is no scatter.
/// </param>
public sealed record SeriesEntry(StripPoint Strip, double Deviation, double ReadingUncertainty);

namespace Acquire.Analysis.History;

/// <summary>What one line on a chart is of.</summary>
/// <param name="ParameterKey">The parameter.</param>
/// <param name="Channel">The channel; null for a spread over the colours.</param>
public readonly record struct SeriesKey(string ParameterKey, Channel? Channel);

namespace Acquire.Analysis.Control;

/// <summary>One value of a plain series.</summary>
/// <param name="Value">The value, in any unit.</param>
/// <param name="Group">The group it belongs to; null when there are none.</param>
/// <param name="X">What it may depend on, such as days; null when there is nothing.</param>
public sealed record SeriesPoint(double Value, string? Group = null, double? X = null);

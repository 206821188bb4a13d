namespace Acquire.Instruments.Profiles;

/// <summary>What a line looks like and what it means. Exactly one of template and pattern is set.</summary>
/// <param name="Meaning">Reading, Partial, OverRange, Error, Calibration or Ignored.</param>
/// <param name="Template">The line as the user sees it, with named places.</param>
/// <param name="Pattern">A regular expression for the linear-time engine, the way out for odd lines; groups are named like places.</param>
public sealed record LineRule(LineMeaning Meaning, LineTemplate? Template, string? Pattern);

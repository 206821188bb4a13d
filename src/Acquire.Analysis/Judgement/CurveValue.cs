namespace Acquire.Analysis.Judgement;

/// <summary>A value taken of a curve, or the reason why there is none, for the user.</summary>
/// <param name="Value">The value; null when there is none.</param>
/// <param name="Why">Why there is none; null when there is one.</param>
public readonly record struct CurveValue(double? Value, string? Why)
{
    /// <summary>A value.</summary>
    public static CurveValue Of(double value) => new(value, null);

    /// <summary>No value, and why.</summary>
    public static CurveValue None(string why) => new(null, why);
}

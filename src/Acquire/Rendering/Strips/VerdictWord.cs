using Acquire.Analysis.Uncertainty;

namespace Acquire.Rendering.Strips;

/// <summary>Verdicts in words.</summary>
internal static class VerdictWord
{
    /// <summary>For people.</summary>
    public static string Of(Verdict verdict) => verdict switch
    {
        Verdict.InControl => "in control",
        Verdict.OutOfControl => "out of control",
        _ => "undecided",
    };

    /// <summary>For programs.</summary>
    public static string? Json(Verdict? verdict) => verdict switch
    {
        Verdict.InControl => "in",
        Verdict.OutOfControl => "out",
        Verdict.Undecided => "undecided",
        _ => null,
    };
}

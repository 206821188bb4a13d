using Acquire.Analysis.Judgement;
using Acquire.Analysis.Uncertainty;

namespace Acquire.Rendering.Report;

/// <summary>Words and numbers that the sections share.</summary>
internal static class ReportWords
{
    public const string None = "–";

    /// <summary>Where links to a strip lead.</summary>
    public static string Anchor(Guid strip) => $"strip-{strip:N}";

    public static string Class(Verdict? verdict) => verdict switch
    {
        Analysis.Uncertainty.Verdict.OutOfControl => "stop",
        Analysis.Uncertainty.Verdict.Undecided => "look",
        _ => "",
    };

    public static string Class(Zone? zone) => zone switch
    {
        Zone.Out => "stop",
        Zone.Action => "look",
        _ => "",
    };

    public static string Class(StripSays says) => says switch
    {
        StripSays.Stop => "stop",
        StripSays.LookFirst => "look",
        _ => "good",
    };

    public static string Deviation(ParameterResult result) => result.Deviation is not { } deviation ? None
        : result.Parameter.Written(deviation);

    public static string Uncertainty(ParameterResult result) => result.StandardUncertainty is { } u ? "±" + Numbers.Density(u) : "";
}

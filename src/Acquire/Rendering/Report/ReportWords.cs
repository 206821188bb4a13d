using Acquire.Analysis.Judgement;
using Acquire.Analysis.Uncertainty;

namespace Acquire.Rendering.Report;

/// <summary>Words and numbers that the sections share.</summary>
internal static class ReportWords
{
    public const string None = "–";

    public static string Moment(DateTimeOffset at) => at.ToString("yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture);

    public static string Day(DateTimeOffset at) => at.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    /// <summary>Where links to a strip lead.</summary>
    public static string Anchor(Guid strip) => $"strip-{strip:N}";

    public static string Verdict(Verdict? verdict) => verdict switch
    {
        Analysis.Uncertainty.Verdict.InControl => "in control",
        Analysis.Uncertainty.Verdict.OutOfControl => "out of control",
        Analysis.Uncertainty.Verdict.Undecided => "undecided",
        _ => "no verdict",
    };

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
        : Numbers.Deviation(result.Parameter, deviation);

    public static string Uncertainty(ParameterResult result) => result.StandardUncertainty is { } u ? "±" + Numbers.Density(u) : "";

    public static string Percent(double? share) => share switch
    {
        null => None,
        > 0.999 => "over 99.9 %",
        < 0.001 => "under 0.1 %",
        { } s => s.ToString("0.0 %", CultureInfo.InvariantCulture),
    };

    /// <summary>Names in a row, as a sentence has them.</summary>
    public static string Names(IReadOnlyList<string> names) => names.Count < 2 ? string.Concat(names) : $"{string.Join(", ", names.SkipLast(1))} and {names[^1]}";
}

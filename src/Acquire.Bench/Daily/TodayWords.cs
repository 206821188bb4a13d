using Acquire.Analysis.Judgement;
using Acquire.Analysis.Uncertainty;

namespace Acquire.Bench.Daily;

/// <summary>Results, days and ages in the few words that fit a screen.</summary>
internal static class TodayWords
{
    private const int MostNamed = 3;

    /// <summary>Results with their deviations, such as <c>LD red +0.091, LD green +0.087 and 2 more</c>.</summary>
    public static string Results(ImmutableArray<ParameterResult> results)
    {
        var named = string.Join(", ", results.Take(MostNamed).Select(Result));
        return results.Length > MostNamed ? string.Create(CultureInfo.InvariantCulture, $"{named} and {results.Length - MostNamed} more") : named;
    }

    /// <summary>What is past an action limit, or what the uncertainty leaves open.</summary>
    public static string Open(ImmutableArray<ParameterResult> results)
    {
        var past = results.Where(r => r.Zone == Zone.Action).ToImmutableArray();
        return past.IsEmpty
            ? $"the uncertainty leaves open whether {Results(results)} {(results.Length == 1 ? "is" : "are")} inside"
            : $"{Results(past)} past the action limit";
    }

    /// <summary>What can be said of a strip that is inside.</summary>
    public static string Inside(StripAnswer answer) =>
        string.Create(CultureInfo.InvariantCulture, $"all {answer.Judged} results of the newest strip are inside their limits");

    public static string Day(DateTimeOffset at) => at.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    /// <summary>An age in whole days; hours on the first two.</summary>
    public static string Age(TimeSpan age) => age.TotalHours < 48
        ? string.Create(CultureInfo.InvariantCulture, $"{Math.Max(0, Math.Floor(age.TotalHours)):0} h")
        : string.Create(CultureInfo.InvariantCulture, $"{Math.Floor(age.TotalDays):0} days");

    public static string Count(int count, string what) => string.Create(CultureInfo.InvariantCulture, $"{count} {what}{(count == 1 ? "" : "s")}");

    private static string Result(ParameterResult result)
    {
        var deviation = result.Deviation!.Value.ToString(result.Parameter.HasSign ? "+0.000;-0.000" : "0.000", CultureInfo.InvariantCulture);
        return result is { Zone: Zone.Out, Verdict.Verdict: Verdict.Undecided }
            ? $"{result.Label} {deviation} (not yet sure)"
            : $"{result.Label} {deviation}";
    }
}

using Acquire.Analysis.Life;
using Acquire.Analysis.Judgement;

namespace Acquire.Bench.Daily;

/// <summary>Results, days and ages in the few words that fit a screen.</summary>
public static class TodayWords
{
    private const int MostNamed = 3;

    /// <summary>What the answer is about, and what it is not.</summary>
    public const string Scope =
        "Strips tell of densities, on the day they ran. They do not tell whether a solution is safe to handle, or what has happened since.";

    /// <summary>Where a bottle stands, short.</summary>
    public static string Standing(BottleStanding? standing)
    {
        if (standing?.Worst is not { } worst)
        {
            return standing?.UnseenStorage is { } unseen
                ? $"no strip ran in a bottle kept {unseen}"
                : "too few strips to tell where it stands";
        }

        var left = standing.DaysLeft switch
        {
            { Estimate: > 0 } days => string.Create(
                CultureInfo.InvariantCulture,
                $"{(standing.AgeDays + days.Upper > worst.OldestAge ? "if it goes on like this, " : "")}about {days.Estimate:0} days to go "
                + $"({Math.Max(0, days.Lower):0} to {Math.Max(0, days.Upper):0})"),
            { } past => string.Create(CultureInfo.InvariantCulture, $"past its limit for about {-past.Estimate:0} days, by the strips"),
            null => "how long still cannot be named",
        };
        return string.Create(CultureInfo.InvariantCulture, $"{worst.Name} about {standing.Deviation:+0.00;-0.00}, inside its action "
            + $"limit with {Numbers.Percent(standing.InsideProbability)}; {left}{LifeWords.Reckoned(standing)}");
    }

    /// <summary>Results with their deviations, such as <c>LD red +0.091, LD green +0.087 and 2 more</c>.</summary>
    /// <param name="answer">What the strip says as a whole: what is not out when all are asked at once is not yet sure.</param>
    internal static string Results(ImmutableArray<ParameterResult> results, StripAnswer answer)
    {
        var named = string.Join(", ", results.Take(MostNamed).Select(r => Result(r, answer.IsUnsure(r))));
        return results.Length > MostNamed
            ? string.Create(CultureInfo.InvariantCulture, $"{named} and {results.Length - MostNamed} more")
            : named;
    }

    /// <summary>What is past an action limit, or what the uncertainty leaves open.</summary>
    internal static string Open(StripAnswer answer)
    {
        var results = answer.Because;
        var past = results.Where(r => r.Zone == Zone.Action).ToImmutableArray();
        return past.IsEmpty
            ? $"the uncertainty leaves open whether {Results(results, answer)} {(results.Length == 1 ? "is" : "are")} inside"
            : $"{Results(past, answer)} past the action limit";
    }

    /// <summary>What can be said of a strip that is inside.</summary>
    internal static string Inside(StripAnswer answer) =>
        string.Create(CultureInfo.InvariantCulture, $"all {answer.Judged} results of the newest strip are inside their limits");

    /// <summary>What a strip says, in a word or two.</summary>
    public static string Word(StripSays says) => says switch
    {
        StripSays.InControl => "in control",
        StripSays.LookFirst => "look first",
        _ => "STOP",
    };

    private static string Result(ParameterResult result, bool unsure)
    {
        var deviation = result.Parameter.Written(result.Deviation!.Value);
        return unsure
            ? $"{result.Label} {deviation} (not yet sure)"
            : $"{result.Label} {deviation}";
    }
}

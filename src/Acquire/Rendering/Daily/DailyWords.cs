using Acquire.Analysis.Life;

namespace Acquire.Rendering.Daily;

/// <summary>Sentences of the day that screen and JSON share.</summary>
internal static class DailyWords
{
    /// <summary>What the answer is about, and what it is not.</summary>
    public const string Scope = "Strips tell of densities, on the day they ran. They do not tell whether a solution is safe to handle, or what has happened since.";

    /// <summary>Where a bottle stands, short.</summary>
    public static string Standing(BottleStanding? standing)
    {
        if (standing?.Worst is not { } worst)
        {
            return "too few strips to tell where it stands";
        }

        var left = standing.DaysLeft switch
        {
            { Estimate: > 0 } days => string.Create(CultureInfo.InvariantCulture, $"about {days.Estimate:0} days to go ({Math.Max(0, days.Lower):0} to {Math.Max(0, days.Upper):0})"),
            { } past => string.Create(CultureInfo.InvariantCulture, $"past its limit for about {-past.Estimate:0} days, by the strips"),
            null => "how long still cannot be named",
        };
        return string.Create(CultureInfo.InvariantCulture, $"{worst.Name} about {standing.Deviation:+0.00;-0.00}, inside its action limit with {Percent(standing.InsideProbability)}; {left}");
    }

    private static string Percent(double share) => share switch
    {
        > 0.99 => "over 99 %",
        < 0.01 => "under 1 %",
        _ => share.ToString("0 %", CultureInfo.InvariantCulture),
    };
}

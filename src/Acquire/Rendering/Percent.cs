namespace Acquire.Rendering;

/// <summary>Probabilities for people: never more certain than a whole per cent tells.</summary>
internal static class Percent
{
    /// <summary>Such as <c>78 %</c>, <c>over 99 %</c> or <c>under 1 %</c>.</summary>
    public static string Of(double probability) => probability switch
    {
        > 0.99 => "over 99 %",
        < 0.01 => "under 1 %",
        _ => (probability * 100).ToString("0", CultureInfo.InvariantCulture) + " %",
    };
}

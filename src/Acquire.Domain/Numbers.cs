namespace Acquire.Domain;

/// <summary>How densities, times, counts and probabilities are written for people, wherever they
/// are said: the same in a sentence, a table and a page.</summary>
public static class Numbers
{
    private const string DayForm = "yyyy-MM-dd";

    public static string Density(double value) => value.ToString("0.000", CultureInfo.InvariantCulture);

    /// <summary>A deviation with its sign; one that rounds to nothing has none.</summary>
    // Else a deviation a hair below zero would be written -0.000, which looks like a direction.
    public static string Deviation(double value) =>
        Math.Round(value, 3) == 0 ? "0.000" : value.ToString("+0.000;-0.000", CultureInfo.InvariantCulture);

    /// <summary>An uncertainty or a scatter, to four decimals.</summary>
    public static string Four(double value) => value.ToString("0.0000", CultureInfo.InvariantCulture);

    public static string Whole(int number) => number.ToString(CultureInfo.InvariantCulture);

    /// <summary>So many of something: <c>1 line</c>, <c>2 lines</c>.</summary>
    public static string Count(int count, string what) => $"{Whole(count)} {what}{(count == 1 ? "" : "s")}";

    public static string Day(DateOnly? day) => day?.ToString(DayForm, CultureInfo.InvariantCulture) ?? "";

    /// <summary>The day of a moment in the offset that it has.</summary>
    public static string Day(DateTimeOffset at) => at.ToString(DayForm, CultureInfo.InvariantCulture);

    /// <summary>Reads a day as <see cref="Day(DateOnly?)"/> writes it; never throws.</summary>
    public static bool TryDay(string text, out DateOnly day) =>
        DateOnly.TryParseExact(text, DayForm, CultureInfo.InvariantCulture, DateTimeStyles.None, out day);

    /// <summary>A moment in the offset that it has.</summary>
    public static string Moment(DateTimeOffset at) => at.ToString("yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture);

    /// <summary>A moment by the local clock.</summary>
    public static string Moment(DateTimeOffset at, TimeProvider time) => Moment(TimeZoneInfo.ConvertTime(at, time.LocalTimeZone));

    /// <summary>A probability, never more certain than a whole per cent tells: <c>78 %</c>, <c>over 99 %</c> or <c>under 1 %</c>.</summary>
    public static string Percent(double probability) => probability switch
    {
        > 0.99 => "over 99 %",
        < 0.01 => "under 1 %",
        _ => Share(probability),
    };

    /// <summary>The probability behind a verdict, to a tenth of a per cent:
    /// <c>97.3 %</c>, <c>over 99.9 %</c> or <c>under 0.1 %</c>.</summary>
    public static string Tenths(double probability) => probability switch
    {
        > 0.999 => "over 99.9 %",
        < 0.001 => "under 0.1 %",
        _ => probability.ToString("0.0 %", CultureInfo.InvariantCulture),
    };

    /// <summary>A part of a whole, which may be more than the whole: <c>112 %</c>.</summary>
    public static string Share(double share) => share.ToString("0 %", CultureInfo.InvariantCulture);

    /// <summary>Names in a row, as a sentence has them.</summary>
    public static string Names(IReadOnlyList<string> names) =>
        names.Count < 2 ? string.Concat(names) : $"{string.Join(", ", names.SkipLast(1))} and {names[^1]}";

    /// <summary>A text as a sentence begins.</summary>
    public static string Capital(string text) => string.IsNullOrEmpty(text) ? "" : char.ToUpperInvariant(text[0]) + text[1..];
}

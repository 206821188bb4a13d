namespace Acquire.Bench;

/// <summary>Days as people give them to a command or a form, such as <c>2027-06-30</c>.</summary>
public static class GivenDay
{
    /// <exception cref="BenchException">It is no day.</exception>
    public static DateOnly Of(string text) => Numbers.TryDay(text, out var day)
        ? day
        : throw new BenchException($"'{text}' is no day; expected year, month and day as in 2027-06-30.");

    /// <summary>A day, or a moment on it by the local clock, such as <c>2026-03-04T18:30</c>.</summary>
    /// <exception cref="BenchException">It is no time.</exception>
    public static DateTimeOffset Moment(string text, TimeZoneInfo zone)
    {
        var (date, clock) = text.Split('T', ' ') is [var d, var c] ? (d, c) : (text, "00:00");
        if (!Numbers.TryDay(date, out var day) || day == DateOnly.MinValue || day == DateOnly.MaxValue
            || !TimeOnly.TryParseExact(clock, "HH:mm", CultureInfo.InvariantCulture, DateTimeStyles.None, out var hour))
        {
            throw new BenchException($"'{text}' is no time; expected one such as 2026-03-04 or 2026-03-04T18:30.");
        }

        return At(day.ToDateTime(hour), zone);
    }

    /// <summary>The moment at which a day begins by the local clock.</summary>
    public static DateTimeOffset Begin(DateOnly day, TimeZoneInfo zone) =>
        day == DateOnly.MinValue ? DateTimeOffset.MinValue : At(day.ToDateTime(TimeOnly.MinValue), zone);

    /// <summary>The moment at which it is over. The next day's beginning, as a day on which the clocks change has no 24 hours.</summary>
    public static DateTimeOffset End(DateOnly day, TimeZoneInfo zone) =>
        day == DateOnly.MaxValue ? DateTimeOffset.MaxValue : Begin(day.AddDays(1), zone);

    private static DateTimeOffset At(DateTime local, TimeZoneInfo zone) => new(local, zone.GetUtcOffset(local));
}

namespace Acquire.Bench;

/// <summary>Days as people give them to a command or a form, such as <c>2027-06-30</c>.</summary>
public static class GivenDay
{
    /// <exception cref="BenchException">It is no day.</exception>
    public static DateOnly Of(string text) => Numbers.TryDay(text, out var day)
        ? day
        : throw new BenchException($"'{text}' is no day; expected year, month and day as in 2027-06-30.");

    /// <summary>The moment at which a day begins by the local clock.</summary>
    public static DateTimeOffset Begin(DateOnly day, TimeZoneInfo zone)
    {
        var midnight = day.ToDateTime(TimeOnly.MinValue);
        return day == DateOnly.MinValue ? DateTimeOffset.MinValue : new DateTimeOffset(midnight, zone.GetUtcOffset(midnight));
    }

    /// <summary>The moment at which it is over. The next day's beginning, as a day on which the clocks change has no 24 hours.</summary>
    public static DateTimeOffset End(DateOnly day, TimeZoneInfo zone) =>
        day == DateOnly.MaxValue ? DateTimeOffset.MaxValue : Begin(day.AddDays(1), zone);
}

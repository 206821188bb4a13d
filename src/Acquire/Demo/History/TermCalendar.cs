namespace Acquire.Demo.History;

/// <summary>The evenings of the class: Tuesdays and Thursdays of about twelve weeks until now, with a week of holidays among them.</summary>
internal sealed class TermCalendar
{
    /// <summary>How many evenings there are.</summary>
    public const int Evenings = 22;

    /// <summary>The first evening after the holiday.</summary>
    public const int AfterHoliday = 14;

    private const int InHoliday = 2;

    private static readonly TimeOnly Home = new(22, 0);

    private readonly TimeZoneInfo _zone;
    private readonly ImmutableArray<DateOnly> _evenings;

    /// <summary>Counts back from a moment: the last evening is one that is over.</summary>
    public TermCalendar(DateTimeOffset now, TimeZoneInfo zone)
    {
        _zone = zone;
        var here = TimeZoneInfo.ConvertTime(now, zone).DateTime;
        var last = DateOnly.FromDateTime(here).AddDays(TimeOnly.FromDateTime(here) < Home ? -1 : 0);
        var days = Enumerable.Range(0, 7 * Evenings).Select(back => last.AddDays(-back))
            .Where(d => d.DayOfWeek is DayOfWeek.Tuesday or DayOfWeek.Thursday).Take(Evenings + InHoliday).Reverse();
        _evenings = [.. days.Where((_, i) => i is < AfterHoliday or >= AfterHoliday + InHoliday)];
    }

    /// <summary>The day before the first evening.</summary>
    public DateTimeOffset Opening(int hour, int minute) => At(_evenings[0].AddDays(-1), hour, minute);

    /// <summary>An evening of the class, from 0.</summary>
    public DateTimeOffset Evening(int number, int hour, int minute) => At(_evenings[number], hour, minute);

    /// <summary>The day after an evening, when staff are in.</summary>
    public DateTimeOffset DayAfter(int number, int hour, int minute) => At(_evenings[number].AddDays(1), hour, minute);

    // No clock is changed between eight in the morning and ten in the evening.
    private DateTimeOffset At(DateOnly day, int hour, int minute)
    {
        var local = day.ToDateTime(new TimeOnly(hour, minute));
        return new DateTimeOffset(local, _zone.GetUtcOffset(local)).ToUniversalTime();
    }
}

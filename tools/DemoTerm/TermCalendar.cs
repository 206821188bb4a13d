namespace DemoTerm;

/// <summary>The evenings of the class: two a week of about twelve weeks, with a week of holidays among them.</summary>
internal sealed class TermCalendar
{
    /// <summary>How many evenings there are.</summary>
    public const int Evenings = 22;

    /// <summary>The first evening after the holiday.</summary>
    public const int AfterHoliday = 14;

    private const int InHoliday = 2;

    private static readonly DateOnly Last = new(2026, 11, 24);

    private readonly ImmutableArray<DateOnly> _evenings;

    /// <summary>Counts back from the last evening.</summary>
    public TermCalendar()
    {
        var days = Enumerable.Range(0, 7 * Evenings).Select(back => Last.AddDays(-back))
            .Where(d => d.DayOfWeek is DayOfWeek.Tuesday or DayOfWeek.Thursday).Take(Evenings + InHoliday).Reverse();
        _evenings = [.. days.Where((_, i) => i is < AfterHoliday or >= AfterHoliday + InHoliday)];
    }

    /// <summary>The day before the first evening.</summary>
    public DateTimeOffset Opening(int hour, int minute) => At(_evenings[0].AddDays(-1), hour, minute);

    /// <summary>An evening of the class, from 0.</summary>
    public DateTimeOffset Evening(int number, int hour, int minute) => At(_evenings[number], hour, minute);

    /// <summary>The day after an evening, when staff are in.</summary>
    public DateTimeOffset DayAfter(int number, int hour, int minute) => At(_evenings[number].AddDays(1), hour, minute);

    private static DateTimeOffset At(DateOnly day, int hour, int minute) => new(day, new TimeOnly(hour, minute), TimeSpan.Zero);
}

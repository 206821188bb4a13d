using Acquire.Demo.History;

namespace Acquire.Tests.Demo;

public sealed class TermCalendarTests
{
    private static readonly DateTimeOffset From = new(2026, 12, 27, 0, 0, 0, TimeSpan.Zero);

    /// <summary>Every three hours of two weeks over the end of a year, far east and far west.</summary>
    [Theory]
    [InlineData(-10)]
    [InlineData(0)]
    [InlineData(13)]
    public void Evenings_are_Tuesdays_and_Thursdays_and_over_at_any_moment(int offset)
    {
        var zone = TimeZoneInfo.CreateCustomTimeZone("college", TimeSpan.FromHours(offset), null, null);
        for (var now = From; now < From.AddDays(14); now += TimeSpan.FromHours(3))
        {
            var term = new TermCalendar(now, zone);
            var evenings = Enumerable.Range(0, TermCalendar.Evenings).Select(e => TimeZoneInfo.ConvertTime(term.Evening(e, 22, 0), zone)).ToList();
            Assert.All(evenings, e => Assert.True(e.DayOfWeek is DayOfWeek.Tuesday or DayOfWeek.Thursday && e.Hour == 22));
            Assert.Equal(evenings.Order().Distinct(), evenings);
            Assert.InRange(now - evenings[^1], TimeSpan.Zero, TimeSpan.FromDays(5));
            Assert.InRange((evenings[TermCalendar.AfterHoliday] - evenings[TermCalendar.AfterHoliday - 1]).TotalDays, 9, 12);
            Assert.True(term.Opening(12, 0) < evenings[0]);
        }
    }
}

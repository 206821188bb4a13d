namespace Acquire.Bench.Tests;

public sealed class GivenDayTests
{
    private static readonly TimeZoneInfo Berlin = TimeZoneInfo.FindSystemTimeZoneById("Europe/Berlin");

    /// <summary>Days on which the clocks change have 23 and 25 hours (Directive 2000/84/EC: last Sundays of March and October).</summary>
    [Theory]
    [InlineData("2026-03-29", 23)]
    [InlineData("2026-10-25", 25)]
    [InlineData("2026-11-25", 24)]
    public void Day_ends_where_the_next_one_begins(string text, int hours)
    {
        var day = GivenDay.Of(text);

        Assert.Equal(hours, (GivenDay.End(day, Berlin) - GivenDay.Begin(day, Berlin)).TotalHours);
        Assert.Equal(0, GivenDay.Begin(day, Berlin).Hour);
    }

    [Fact]
    public void First_and_last_day_of_the_calendar_have_a_beginning_and_an_end()
    {
        Assert.Equal(DateTimeOffset.MinValue, GivenDay.Begin(GivenDay.Of("0001-01-01"), Berlin));
        Assert.Equal(DateTimeOffset.MaxValue, GivenDay.End(GivenDay.Of("9999-12-31"), Berlin));
    }

    [Theory]
    [InlineData("2026-03-04", "2026-03-04T00:00:00+01:00")]
    [InlineData("2026-07-04T18:30", "2026-07-04T18:30:00+02:00")]
    [InlineData("2026-03-04 18:30", "2026-03-04T18:30:00+01:00")]
    public void Moment_is_by_the_local_clock(string text, string expected) =>
        Assert.Equal(expected, GivenDay.Moment(text, Berlin).ToString("yyyy-MM-ddTHH:mm:sszzz", CultureInfo.InvariantCulture));

    [Theory]
    [InlineData("")]
    [InlineData("soon")]
    [InlineData("2026-02-30")]
    [InlineData("26-3-4")]
    [InlineData("2026-03-04T")]
    [InlineData("2026-03-04T6:30 pm")]
    [InlineData("2026-03-04T18:30+01:00")]
    [InlineData("0001-01-01")]
    public void What_is_none_is_refused_with_what_was_expected(string text) =>
        Assert.Contains(
            "expected one such as 2026-03-04",
            Assert.Throws<BenchException>(() => GivenDay.Moment(text, Berlin)).Message,
            StringComparison.Ordinal);
}

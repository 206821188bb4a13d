using Acquire.Bench.Books;
using CsCheck;

namespace Acquire.Bench.Tests.Books;

public sealed class EntryTimeTests
{
    /// <summary>An hour ahead of UTC, two from the last Sunday of March to that of October, both at 01:00 UTC.</summary>
    private static readonly TimeZoneInfo Zone = TimeZoneInfo.CreateCustomTimeZone(
        "college", TimeSpan.FromHours(1), "college", "winter", "summer",
        [
            TimeZoneInfo.AdjustmentRule.CreateAdjustmentRule(
                DateTime.MinValue.Date,
                DateTime.MaxValue.Date,
                TimeSpan.FromHours(1),
                TimeZoneInfo.TransitionTime.CreateFloatingDateRule(new DateTime(1, 1, 1, 2, 0, 0), 3, 5, DayOfWeek.Sunday),
                TimeZoneInfo.TransitionTime.CreateFloatingDateRule(new DateTime(1, 1, 1, 3, 0, 0), 10, 5, DayOfWeek.Sunday)),
        ]);

    /// <summary>Wednesday evening, 20:40 by the clock on the wall.</summary>
    private static readonly DateTimeOffset Now = new(2026, 11, 25, 19, 40, 0, TimeSpan.Zero);

    [Theory]
    [InlineData("now", "2026-11-25T20:40:00+01:00")]
    [InlineData("19:30", "2026-11-25T19:30:00+01:00")]
    [InlineData("9:05", "2026-11-25T09:05:00+01:00")]
    [InlineData("21:00", "2026-11-25T21:00:00+01:00")]
    [InlineData("today 19:30", "2026-11-25T19:30:00+01:00")]
    [InlineData("Yesterday 19:30", "2026-11-24T19:30:00+01:00")]
    [InlineData(" yesterday  19:30 ", "2026-11-24T19:30:00+01:00")]
    [InlineData("yesterday", "2026-11-24T12:00:00+01:00")]
    [InlineData("today", "2026-11-25T12:00:00+01:00")]
    [InlineData("-3d", "2026-11-22T20:40:00+01:00")]
    [InlineData("-3d 19:30", "2026-11-22T19:30:00+01:00")]
    [InlineData("-2h", "2026-11-25T18:40:00+01:00")]
    [InlineData("-45m", "2026-11-25T19:55:00+01:00")]
    [InlineData("-45min", "2026-11-25T19:55:00+01:00")]
    [InlineData("-1d2h", "2026-11-24T18:40:00+01:00")]
    [InlineData("-60d", "2026-09-26T20:40:00+02:00")]
    [InlineData("2026-11-24", "2026-11-24T12:00:00+01:00")]
    [InlineData("2026-11-24 19:30", "2026-11-24T19:30:00+01:00")]
    [InlineData("2026-07-24T19:30", "2026-07-24T19:30:00+02:00")]
    [InlineData("2026-11-24T19:30:15", "2026-11-24T19:30:15+01:00")]
    [InlineData("2026-11-24T19:30:00-05:00", "2026-11-24T19:30:00-05:00")]
    [InlineData("2026-11-24T19:30Z", "2026-11-24T19:30:00+00:00")]
    public void Time_is_read_as_people_say_it(string text, string expected)
    {
        var time = EntryTime.Parse(text, Now, Zone);

        Assert.Equal(DateTimeOffset.Parse(expected, System.Globalization.CultureInfo.InvariantCulture), time);
    }

    [Fact]
    public void Day_whose_noon_is_still_to_come_is_now()
    {
        var morning = new DateTimeOffset(2026, 11, 25, 8, 0, 0, TimeSpan.FromHours(1));

        Assert.Equal(morning, EntryTime.Parse("today", morning, Zone));
        Assert.Equal(morning, EntryTime.Parse("2026-11-25", morning, Zone));
    }

    [Theory]
    [InlineData("")]
    [InlineData("soon")]
    [InlineData("24:00")]
    [InlineData("19:60")]
    [InlineData("1930")]
    [InlineData("-")]
    [InlineData("-3")]
    [InlineData("-3w")]
    [InlineData("3d")]
    [InlineData("-99999d")]
    [InlineData("2026-02-30")]
    [InlineData("2026-13-01 10:00")]
    [InlineData("25.11.2026")]
    [InlineData("0001-01-01")]
    [InlineData("yesterday 25:00")]
    [InlineData("now 19:30")]
    public void Time_that_is_none_is_refused_with_what_was_expected(string text)
    {
        var fault = Assert.Throws<BenchException>(() => EntryTime.Parse(text, Now, Zone));

        Assert.Contains("yesterday 19:30", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Hour_that_the_clocks_skipped_is_refused() => Assert.Contains(
        "clocks went forward",
        Assert.Throws<BenchException>(() => EntryTime.Parse("2026-03-29 02:30", Now, Zone)).Message, StringComparison.Ordinal);

    [Fact]
    public void Hour_that_came_twice_is_the_first() =>
        Assert.Equal(TimeSpan.FromHours(2), EntryTime.Parse("2026-10-25 02:30", Now, Zone).Offset);

    [Fact]
    public void Any_text_gives_a_time_or_a_problem_and_never_throws() => Gen.OneOf(
        Gen.String,
        Gen.OneOf("-", "d", "h", "m", ":", " ", "yesterday", "today", "19", "30", "2026", "11", "25", "99999", "T", "Z", "+01:00").Array[
            0, 7].Select(string.Concat))
        .Sample(text =>
        {
            var read = EntryTime.TryParse(text, Now, Zone, out _, out var problem);
            Assert.Equal(read, problem.Length == 0);
        });

    [Fact]
    public void Time_written_out_is_read_back() => Gen.Select(Gen.Int[1950, 2090], Gen.Int[1, 365], Gen.Int[0, 1439])
        .Sample((year, day, minute) =>
    {
        var local = new DateTime(year, 1, 1).AddDays(day - 1).AddMinutes(minute);
        if (!Zone.IsInvalidTime(local))
        {
            Assert.Equal(
                local,
                EntryTime.Parse(local.ToString("yyyy-MM-dd HH:mm", System.Globalization.CultureInfo.InvariantCulture), Now, Zone).DateTime);
        }
    });
}

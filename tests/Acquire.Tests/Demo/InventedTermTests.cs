using Acquire.Demo;
using DemoTerm;
using Microsoft.Extensions.Time.Testing;

namespace Acquire.Tests.Demo;

/// <summary>The file with the term: as the tool makes it, and put to today.</summary>
public sealed class InventedTermTests
{
    private static readonly string[] Moments = ["happened_at", "entered_at", "read_at", "received_at", "added_at"];

    /// <summary>An hour forward at the end of March, back at the end of October.</summary>
    private static readonly TimeZoneInfo Changing = TimeZoneInfo.CreateCustomTimeZone(
        "changing", TimeSpan.FromHours(-5), null, null, null,
        [
            TimeZoneInfo.AdjustmentRule.CreateAdjustmentRule(
                DateTime.MinValue.Date, DateTime.MaxValue.Date, TimeSpan.FromHours(1),
                TimeZoneInfo.TransitionTime.CreateFloatingDateRule(new DateTime(1, 1, 1, 2, 0, 0), 3, 5, DayOfWeek.Sunday),
                TimeZoneInfo.TransitionTime.CreateFloatingDateRule(new DateTime(1, 1, 1, 2, 0, 0), 10, 5, DayOfWeek.Sunday)),
        ]);

    [Theory]
    [InlineData("2026-11-27T15:30:00-05:00", 0)]
    [InlineData("2027-01-05T23:00:00-05:00", 0)]
    [InlineData("2028-06-05T05:00:00-05:00", 1)]
    public void Clock_on_the_wall_shows_what_it_showed_at_the_college_and_the_last_day_is_today_or_yesterday(string now, int daysAgo)
    {
        var at = DateTimeOffset.Parse(now, CultureInfo.InvariantCulture);
        var time = new FakeTimeProvider(at);
        var college = Times(InventedTerm.EndingNow(time), TimeZoneInfo.Utc);
        time.SetLocalTimeZone(Changing);
        var here = Times(InventedTerm.EndingNow(time), Changing);

        Assert.Equal(college.Select(t => t.TimeOfDay), here.Select(t => t.TimeOfDay));
        Assert.InRange(at, here.Max(), here.Max().AddDays(1));
        Assert.Equal(TimeZoneInfo.ConvertTime(at, Changing).Date.AddDays(-daysAgo), here.Max().Date);
        Assert.True(here.Count > 1000);
    }

    [Fact]
    public void Ids_bear_the_moment_at_which_the_entry_was_made()
    {
        var entries = InventedTerm.EndingNow(new FakeTimeProvider(FilledTerm.Now)).Where(r => r.Table == "book_entry").ToList();
        Assert.True(entries.Count > 100);
        Assert.All(entries, e => Assert.Equal(
            DateTimeOffset.Parse((string)e.Values["entered_at"], CultureInfo.InvariantCulture).ToUnixTimeMilliseconds(),
            long.Parse(
                ((string)e.Values["id"]).Replace("-", "", StringComparison.Ordinal)[..12],
                NumberStyles.HexNumber,
                CultureInfo.InvariantCulture)));
    }

    [Fact]
    [Trait("speed", "slow")]
    public async Task Tool_makes_the_same_file_of_the_same_seed_and_another_of_another()
    {
        var token = TestContext.Current.CancellationToken;
        var one = await DemoHistory.FileAsync(7, token);
        Assert.Equal(one, await DemoHistory.FileAsync(7, token));
        Assert.NotEqual(one, await DemoHistory.FileAsync(8, token));
    }

    private static List<DateTimeOffset> Times(IEnumerable<StoredRow> rows, TimeZoneInfo zone) =>
    [
        .. rows.SelectMany(r => r.Values).Where(v => Moments.Contains(v.Key))
            .Select(v => TimeZoneInfo.ConvertTime(DateTimeOffset.Parse((string)v.Value, CultureInfo.InvariantCulture), zone)),
    ];
}

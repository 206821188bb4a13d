using Acquire.Storage.Files;

namespace Acquire.Storage.Tests.Backups;

public sealed class BackupRetentionTests
{
    private static readonly DateTimeOffset Now = new(2026, 11, 25, 12, 0, 0, TimeSpan.Zero);

    private static readonly Gen<DateTimeOffset[]> Times = Gen.Int[-3 * 24 * 60, 400 * 24 * 60].Select(m => Now.AddMinutes(-m)).Array[0, 80];

    [Fact]
    public void Retention_of_an_example_is_that_of_the_hand()
    {
        DateTimeOffset[] kept =
        [
            At(2026, 11, 25, 11), At(2026, 11, 25, 9), At(2026, 11, 24, 8), At(2026, 11, 23, 13), // two days: all
            At(2026, 11, 20, 18), At(2026, 11, 1, 7), // last of their day
            At(2026, 9, 30, 20), At(2026, 8, 3, 9), // last of their month
        ];
        DateTimeOffset[] superfluous = [At(2026, 11, 20, 9), At(2026, 9, 30, 10), At(2026, 9, 2, 8), At(2026, 8, 1, 9)];

        Assert.Equal(superfluous.Order(), BackupRetention.Superfluous(kept.Concat(superfluous), Now));
    }

    [Fact]
    public void Newest_is_kept_however_old() =>
        Assert.Equal([At(2020, 1, 1, 8)], BackupRetention.Superfluous([At(2020, 1, 1, 8), At(2020, 1, 1, 9)], Now));

    [Fact]
    public void Retention_keeps_the_newest_all_young_ones_and_one_of_every_day_and_month() => Times.Sample(times =>
    {
        var removed = BackupRetention.Superfluous(times, Now).ToHashSet();
        var kept = times.Where(t => !removed.Contains(t)).ToList();
        Assert.All(removed, t => Assert.True(Now - t > BackupRetention.All));
        Assert.Subset(times.ToHashSet(), removed);
        Assert.Equal(times.Length == 0 ? null : times.Max(), kept.Count == 0 ? (DateTimeOffset?)null : kept.Max());
        Assert.Equal(Months(times), Months(kept));
        Assert.Equal(Days(times), Days(kept));
    });

    [Fact]
    public void Retention_done_twice_removes_no_more() => Times.Sample(times =>
        Assert.Empty(BackupRetention.Superfluous(times.Except(BackupRetention.Superfluous(times, Now)), Now)));

    /// <summary>A backup every few hours for a year, thinned out each time: a few dozen stay, and every month has its last.</summary>
    [Fact]
    public void Year_of_backups_stays_small_and_reaches_back()
    {
        var kept = new List<DateTimeOffset>();
        var end = Now.AddDays(-400);
        for (var time = end; time < Now; time = time.AddHours(5))
        {
            kept.Add(time);
            kept = [.. kept.Except(BackupRetention.Superfluous(kept, time))];
        }

        Assert.InRange(kept.Count, 40, 70);
        Assert.Equal(
            Enumerable.Range(0, 13).Select(i => At(2025, 11, 1, 0).AddMonths(i)).Select(m => (m.Year, m.Month)), Months(kept).TakeLast(13));
    }

    private static DateTimeOffset At(int year, int month, int day, int hour) => new(year, month, day, hour, 0, 0, TimeSpan.Zero);

    private static List<(int Year, int Month)> Months(IEnumerable<DateTimeOffset> times) =>
        [.. times.Select(t => (t.Year, t.Month)).Distinct().Order()];

    private static List<DateTime> Days(IEnumerable<DateTimeOffset> times) =>
        [.. times.Where(t => Now - t <= BackupRetention.Daily).Select(t => t.UtcDateTime.Date).Distinct().Order()];
}

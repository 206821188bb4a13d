namespace Acquire.Storage.Backups;

/// <summary>Which backups are kept, by their age: all of two days, then one a day for thirty days, then one a month.</summary>
public static class BackupRetention
{
    /// <summary>For so long every backup is kept.</summary>
    public static readonly TimeSpan All = TimeSpan.FromDays(2);

    /// <summary>For so long the last backup of each day is kept, and after it the last of each month.</summary>
    public static readonly TimeSpan Daily = TimeSpan.FromDays(30);

    /// <summary>
    /// Those that need not be kept. The newest is never among them, nor one from the future, as a clock that was set back makes it.
    /// </summary>
    /// <param name="times">When the backups were made, UTC.</param>
    /// <param name="now">Now.</param>
    public static ImmutableArray<DateTimeOffset> Superfluous(IEnumerable<DateTimeOffset> times, DateTimeOffset now)
    {
        // The newest of all is the newest of its period too.
        return [.. times.Distinct().GroupBy(t => Period(t, now)).Where(g => g.Key is not null).SelectMany(g => g.Except([g.Max()]))
            .Order()];
    }

    /// <summary>The day or month of which one backup is kept; null where all are.</summary>
    private static (int Year, int Month, int Day)? Period(DateTimeOffset time, DateTimeOffset now)
    {
        var (age, day) = (now - time, time.UtcDateTime);
        return age <= All ? null : age <= Daily ? (day.Year, day.Month, day.Day) : (day.Year, day.Month, 0);
    }
}

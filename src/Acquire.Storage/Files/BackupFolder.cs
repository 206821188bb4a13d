using System.Text.RegularExpressions;

namespace Acquire.Storage.Files;

/// <summary>One backup in the folder.</summary>
/// <param name="Path">Full path.</param>
/// <param name="At">When it was made, by its name; UTC.</param>
public sealed record BackupFile(string Path, DateTimeOffset At, long Bytes);

/// <summary>
/// The backups that the program makes by itself, in <c>backups</c> in the data folder: <c>acquire-20260312-183000.db</c>, UTC.
/// </summary>
/// <param name="Path">Full path of the folder.</param>
/// <param name="Files">The backups, oldest first; files with other names are none of ours.</param>
public sealed partial record BackupFolder(string Path, IReadOnlyList<BackupFile> Files)
{
    private const string TimeFormat = "yyyyMMdd-HHmmss";

    /// <summary>The folder of a data folder, as it is now; without files where it is not there.</summary>
    public static BackupFolder Of(string dataFolder)
    {
        var folder = System.IO.Path.Combine(System.IO.Path.GetFullPath(dataFolder), "backups");
        return new BackupFolder(
            folder,
            Directory.Exists(folder) ? [.. Directory.EnumerateFiles(folder).Select(Parse).OfType<BackupFile>().OrderBy(f => f.At)] : []);
    }

    /// <summary>The path of a backup that is made now; later by a second for each that is there already.</summary>
    public string NameAt(DateTimeOffset now)
    {
        for (var time = now.UtcDateTime; ; time = time.AddSeconds(1))
        {
            var path = System.IO.Path.Combine(Path, $"acquire-{time.ToString(TimeFormat, CultureInfo.InvariantCulture)}.db");
            if (!File.Exists(path))
            {
                return path;
            }
        }
    }

    /// <summary>Deletes the backups that need not be kept, and gives their paths.</summary>
    /// <exception cref="IOException">One cannot be deleted.</exception>
    /// <exception cref="UnauthorizedAccessException">The same.</exception>
    public ImmutableArray<string> Prune(DateTimeOffset now)
    {
        var superfluous = BackupRetention.Superfluous(Files.Select(f => f.At), now).ToHashSet();
        ImmutableArray<string> removed = [.. Files.Where(f => superfluous.Contains(f.At)).Select(f => f.Path)];
        foreach (var path in removed)
        {
            File.Delete(path);
        }

        return removed;
    }

    private static BackupFile? Parse(string path) =>
        OurName().Match(System.IO.Path.GetFileName(path)) is { Success: true } match
        && DateTimeOffset.TryParseExact(
            match.Groups[1].Value, TimeFormat, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal, out var at)
            ? new BackupFile(path, at, new FileInfo(path).Length)
            : null;

    [GeneratedRegex(@"^acquire-(\d{8}-\d{6})\.db$")]
    private static partial Regex OurName();
}

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

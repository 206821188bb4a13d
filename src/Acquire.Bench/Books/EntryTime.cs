using System.Text.RegularExpressions;

namespace Acquire.Bench.Books;

/// <summary>
/// Reads when something happened as people say it: <c>19:30</c>, <c>yesterday 19:30</c>, <c>-3d</c>, <c>-3d 19:30</c>, <c>-2h</c>,
/// <c>2026-11-24</c>, <c>2026-11-24 19:30</c>, <c>2026-11-24T19:30:00+01:00</c>, <c>now</c>. A day without a time is its noon, or now when
/// its noon is still to come.
/// </summary>
public static partial class EntryTime
{
    private const string Expected = "Expected a time such as 19:30, \"yesterday 19:30\", -3d, -2h, 2026-11-24 or \"2026-11-24 19:30\".";

    private static readonly string[] WithOffset = ["yyyy-MM-ddTHH:mmzzz", "yyyy-MM-ddTHH:mm:sszzz", "yyyy-MM-ddTHH:mm:ss.FFFFFFFzzz"];
    private static readonly string[] Universal = ["yyyy-MM-ddTHH:mm'Z'", "yyyy-MM-ddTHH:mm:ss'Z'", "yyyy-MM-ddTHH:mm:ss.FFFFFFF'Z'"];
    private static readonly string[] Local = [
        "yyyy-MM-ddTHH:mm", "yyyy-MM-ddTHH:mm:ss", "yyyy-MM-dd HH:mm", "yyyy-MM-dd HH:mm:ss", "yyyy-MM-dd H:mm"];
    private static readonly string[] Clock = ["H:mm", "HH:mm", "H:mm:ss", "HH:mm:ss"];

    /// <exception cref="BenchException">It is none; the message says what was expected.</exception>
    public static DateTimeOffset Parse(string text, DateTimeOffset now, TimeZoneInfo zone) =>
        TryParse(text, now, zone, out var time, out var problem) ? time : throw new BenchException(problem);

    /// <summary>Reads a time; never throws.</summary>
    /// <param name="text">What the user typed.</param>
    /// <param name="now">The present moment.</param>
    /// <param name="zone">The zone of times without one. Where clocks go back, the first of two equal times is meant.</param>
    /// <param name="problem">What is wrong; empty when nothing is.</param>
    public static bool TryParse(string text, DateTimeOffset now, TimeZoneInfo zone, out DateTimeOffset time, out string problem)
    {
        (time, problem) = (default, "");
        var wanted = text.Trim();
        if (DateTimeOffset.TryParseExact(wanted, WithOffset, CultureInfo.InvariantCulture, DateTimeStyles.None, out time)
            || DateTimeOffset.TryParseExact(wanted, Universal, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal, out time))
        {
            return true;
        }

        if (string.Equals(wanted, "now", StringComparison.OrdinalIgnoreCase))
        {
            time = now;
            return true;
        }

        var here = TimeZoneInfo.ConvertTime(now, zone).DateTime;
        if (DateTime.TryParseExact(wanted, Local, CultureInfo.InvariantCulture, DateTimeStyles.None, out var moment))
        {
            return TryPlace(moment, zone, out time, out problem);
        }

        var parts = Words().Match(wanted);
        if (!parts.Success || Day(parts, here) is not { } day)
        {
            problem = $"'{text}' is no time. {Expected}";
            return false;
        }

        if (parts.Groups["clock"] is { Success: true, Value: var clock })
        {
            if (TimeOnly.TryParseExact(clock, Clock, CultureInfo.InvariantCulture, DateTimeStyles.None, out var hour))
            {
                return TryPlace(day.Date + hour.ToTimeSpan(), zone, out time, out problem);
            }

            problem = $"'{clock}' is no time of day. {Expected}";
            return false;
        }

        if (parts.Groups["back"].Success)
        {
            return TryPlace(day, zone, out time, out problem);
        }

        // A bare day means some time on it; noon is off by half a day at most, and today is never put into the future by it.
        var noon = day.Date.AddHours(12);
        return TryPlace(noon > here && noon.Date == here.Date ? here : noon, zone, out time, out problem);
    }

    /// <summary>The day that is meant, with the time of day of so long ago; null when there is none such.</summary>
    private static DateTime? Day(Match parts, DateTime here)
    {
        if (parts.Groups["date"] is { Success: true, Value: var date })
        {
            return Numbers.TryDay(date, out var day) ? day.ToDateTime(TimeOnly.MinValue) : null;
        }

        if (parts.Groups["back"].Success)
        {
            var (days, hours, minutes) = (Number(parts, "days"), Number(parts, "hours"), Number(parts, "minutes"));
            return here.Date > DateTime.MinValue.AddDays(days + (hours / 24) + 100)
                ? here.AddDays(-days).AddHours(-hours).AddMinutes(-minutes)
                : null;
        }

        return string.Equals(parts.Groups["word"].Value, "yesterday", StringComparison.OrdinalIgnoreCase) ? here.AddDays(-1) : here;
    }

    private static int Number(Match parts, string group) =>
        parts.Groups[group] is { Success: true, Value: var digits } ? int.Parse(digits, CultureInfo.InvariantCulture) : 0;

    private static bool TryPlace(DateTime local, TimeZoneInfo zone, out DateTimeOffset time, out string problem)
    {
        (time, problem) = (default, "");
        if (local.Year is < 1900 or > 9000)
        {
            problem = $"The year {local.Year} cannot be. {Expected}";
            return false;
        }

        if (zone.IsInvalidTime(local))
        {
            problem = string.Create(CultureInfo.InvariantCulture, $"There was no {local:HH:mm} on "
                + $"{Numbers.Day(DateOnly.FromDateTime(local))}: the clocks went forward over it. Give the time before or after.");
            return false;
        }

        var offset = zone.IsAmbiguousTime(local) ? zone.GetAmbiguousTimeOffsets(local).Max() : zone.GetUtcOffset(local);
        time = new DateTimeOffset(local, offset);
        return true;
    }

    [GeneratedRegex(
        @"^(?=.)(?:(?<date>\d{4}-\d{2}-\d{2})|(?<word>today|yesterday)|"
            + @"(?<back>-(?=\d)(?:(?<days>\d{1,5})d)?(?:(?<hours>\d{1,6})h)?(?:(?<minutes>\d{1,6})m(?:in)?)?))?"
            + @"(?:(?:^|\s+)(?<clock>\d{1,2}:\d{2}(?::\d{2})?))?$",
        RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex Words();
}

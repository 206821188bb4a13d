using System.Text.RegularExpressions;

namespace Acquire.Formats;

/// <summary>
/// Reads dates as people write them: 2026-03-04, 4.3.2026, 03/04/26, 4 Mar 2026, each with or without a time such as 18:30, 6:30 pm, or
/// 18:30:05.123+01:00. Whether a date of three numbers begins with the day or the month is not guessed.
/// </summary>
public static partial class DateText
{
    /// <summary>The styles in which a text is a date that exists; none when it is no date at all.</summary>
    public static IEnumerable<DateStyle> Styles(string text) => Enum.GetValues<DateStyle>().Where(s => Parse(text, s) is not null);

    /// <summary>
    /// The date and time; midnight without a time. With an offset from UTC only where the text has one. Null when it is none.
    /// </summary>
    public static WrittenTime? Parse(string text, DateStyle style)
    {
        var match = Numbers().Match(text);
        if (!match.Success && !(match = Named().Match(text)).Success)
        {
            return null;
        }

        if (Day(match, style) is not { } day || Clock(match) is not { } clock)
        {
            return null;
        }

        TimeSpan? offset = match.Groups["z"].Value switch
        {
            "" => null,
            "Z" or "z" => TimeSpan.Zero,
            var z => TimeSpan.ParseExact(z[1..].Replace(":", "", StringComparison.Ordinal), "hhmm", CultureInfo.InvariantCulture)
                * (z[0] == '-' ? -1 : 1),
        };
        return offset is { } zone && zone.Duration() > TimeSpan.FromHours(14)
            ? null
            : new WrittenTime(day.ToDateTime(TimeOnly.MinValue) + clock, offset);
    }

    private static DateOnly? Day(Match match, DateStyle style)
    {
        string[] order = match.Groups["m"].Success
            ? [match.Groups["y"].Value, Month(match.Groups["m"].Value), match.Groups["d"].Value]
            : Order([match.Groups["a"].Value, match.Groups["b"].Value, match.Groups["c"].Value], style);
        if (order is not [{ Length: 2 or 4 } year, { Length: <= 2 } month, { Length: <= 2 } day])
        {
            return null;
        }

        return DateOnly.TryParseExact(
            // Two digits are a year of this century: no strip here is older.
            $"{(year.Length == 2 ? "20" : "")}{year}-{month.PadLeft(2, '0')}-{day.PadLeft(2, '0')}",
            "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var found)
            ? found
            : null;
    }

    private static string[] Order(string[] parts, DateStyle style) => style switch
    {
        DateStyle.Ymd => parts,
        // A year of four digits in front leaves no doubt; the other styles have it at the end.
        DateStyle.Dmy when parts[2].Length is 2 or 4 => [parts[2], parts[1], parts[0]],
        DateStyle.Mdy when parts[2].Length is 2 or 4 => [parts[2], parts[0], parts[1]],
        _ => [],
    };

    private static TimeSpan? Clock(Match match)
    {
        if (!match.Groups["h"].Success)
        {
            return TimeSpan.Zero;
        }

        var (hour, minute, second) = (Number("h"), Number("mi"), Number("s"));
        var half = match.Groups["half"].Value.ToUpperInvariant();
        if (half.Length > 0 && hour is < 1 or > 12)
        {
            return null;
        }

        hour = half switch { "AM" => hour % 12, "PM" => (hour % 12) + 12, _ => hour };
        var ticks = match.Groups["f"].Value is { Length: > 0 } fraction
            ? long.Parse(fraction.PadRight(7, '0')[..7], CultureInfo.InvariantCulture)
            : 0;
        return hour < 24 && minute < 60 && second < 60 ? new TimeSpan(hour, minute, second) + TimeSpan.FromTicks(ticks) : null;

        int Number(string group) =>
            match.Groups[group].Value is { Length: > 0 } digits ? int.Parse(digits, CultureInfo.InvariantCulture) : 0;
    }

    private static string Month(string word) => (Array.FindIndex(
        CultureInfo.InvariantCulture.DateTimeFormat.AbbreviatedMonthNames,
        m => m.Length > 0 && word.StartsWith(m, StringComparison.OrdinalIgnoreCase)) + 1).ToString(CultureInfo.InvariantCulture);

    private const string Time =
        """([ T]+(?<h>\d{1,2})[:.h](?<mi>\d{2})([:.](?<s>\d{2})([.,](?<f>\d{1,7}))?)?\s*(?<half>[AaPp][Mm])?\s*(?<z>[Zz]|[+-]\d{2}:?\d{2})?)?""";

    [GeneratedRegex(
        """\A\s*(?<a>\d{1,4})(?<sep>[-./])(?<b>\d{1,2})\k<sep>(?<c>\d{1,4})""" + Time + """\s*\z""",
        RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture,
        1000)]
    private static partial Regex Numbers();

    [GeneratedRegex(
        """\A\s*((?<d>\d{1,2})\.?[ -](?<m>[A-Za-z]{3,9})\.?,?[ -](?<y>\d{4}|\d{2})|(?<m>[A-Za-z]{3,9})\.?[ -](?<d>\d{1,2}),?[ -](?<y>\d{4}))"""
            + Time
            + """\s*\z""",
        RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture,
        1000)]
    private static partial Regex Named();
}

/// <summary>A time as it is written.</summary>
/// <param name="Clock">What calendar and clock showed.</param>
/// <param name="Offset">The offset from UTC; null when it is not written.</param>
public sealed record WrittenTime(DateTime Clock, TimeSpan? Offset);

/// <summary>In which order the numbers of a date stand.</summary>
public enum DateStyle
{
    /// <summary>Year, month, day: 2026-03-04.</summary>
    Ymd,

    /// <summary>Day, month, year: 04.03.2026.</summary>
    Dmy,

    /// <summary>Month, day, year: 03/04/2026.</summary>
    Mdy,
}

/// <summary>Turns what a clock on the wall showed into a time, and says so where the clock was put back or forward.</summary>
public sealed class LocalClock(TimeZoneInfo zone)
{
    /// <summary>The time, and what the user should know of it; null when there is nothing.</summary>
    public (DateTimeOffset At, string? Note) At(WrittenTime written)
    {
        var clock = DateTime.SpecifyKind(written.Clock, DateTimeKind.Unspecified);
        if (written.Offset is { } offset)
        {
            return (new DateTimeOffset(clock, offset), null);
        }

        var shown = clock.ToString("yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture);
        if (zone.IsInvalidTime(clock))
        {
            // Summer time takes an hour or two away, so three hours earlier lie before the gap.
            var before = zone.GetUtcOffset(clock.AddHours(-3));
            return (new DateTimeOffset(clock, before), $"the clock was put forward over {shown} in {zone.Id}; taken as if it had not been");
        }

        if (zone.IsAmbiguousTime(clock))
        {
            // The earlier of the two has the larger offset.
            var first = zone.GetAmbiguousTimeOffsets(clock).Max();
            return (new DateTimeOffset(clock, first),
                $"the clock was set back and showed {shown} twice in {zone.Id}; taken as the first of the two");
        }

        return (new DateTimeOffset(clock, zone.GetUtcOffset(clock)), null);
    }
}

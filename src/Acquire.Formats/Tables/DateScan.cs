using Acquire.Formats.Csv;

namespace Acquire.Formats.Tables;

/// <summary>What the dates of a file tell about their order of numbers.</summary>
/// <param name="Style">The style; the first that fits when the dates do not tell.</param>
/// <param name="Line">The line whose date shows it, or is ambiguous; 0 when nothing needs to be told.</param>
/// <param name="Text">That date as it is written.</param>
/// <param name="Readings">The readings there are, when the dates do not tell; otherwise empty.</param>
public sealed record DateVerdict(DateStyle Style, int Line, string Text, IReadOnlyList<(DateStyle Style, string Reading)> Readings)
{
    /// <summary>Whether the user must say which it is.</summary>
    public bool IsAmbiguous => Readings.Count > 1;
}

/// <summary>Reads the dates of a file once through: one date after the 12th tells the order for all.</summary>
public static class DateScan
{
    /// <summary>Looks at every date.</summary>
    /// <exception cref="ImportException">
    /// A text is no date, or two dates cannot be of one style; the message says file and line.
    /// </exception>
    public static async Task<DateVerdict> OfAsync(string file, ColumnMap map, CancellationToken cancellationToken)
    {
        MappedHeading? heading = null;
        var clock = new LocalClock(TimeZoneInfo.Utc);
        var fit = Enum.GetValues<DateStyle>().ToHashSet();
        (int Line, string Text)? proof = null, doubt = null;
        await foreach (var row in CsvTable.ReadAsync(file, "a heading and rows", map.Separator, !map.Guarded, cancellationToken))
        {
            if (heading is null)
            {
                heading = MappedHeading.Of(row, map);
                continue;
            }

            var text = new MappedRow(row, heading, map, DateStyle.Ymd, clock).DateCell;
            var styles = DateText.Styles(text).ToHashSet();
            if (styles.Count == 0)
            {
                throw row.Place.Wrong(
                    $"processed_at is '{FilePlace.Shown(text)}'; expected a date such as 2026-03-04, 04.03.2026 18:30 or 4 Mar 2026");
            }

            // A date after the 12th rules styles out; what is left at the end fits every date of the file.
            var before = fit.Count;
            fit.IntersectWith(styles);
            if (fit.Count == 0)
            {
                throw row.Place.Wrong(
                    $"the date '{FilePlace.Shown(text)}' is written otherwise than '{FilePlace.Shown(proof?.Text ?? "")}' in line "
                    + $"{proof?.Line}; expected one style in a file");
            }

            proof = fit.Count < before ? (row.Place.Line, text) : proof;
            doubt ??= styles.Select(s => DateText.Parse(text, s)!.Clock).Distinct().Count() > 1 ? (row.Place.Line, text) : null;
        }

        if (fit.Count > 1 && doubt is { } open)
        {
            var readings =
                fit.Order().Select(s => (s, Reading: Day(DateText.Parse(open.Text, s)!.Clock))).DistinctBy(r => r.Reading).ToList();
            return new DateVerdict(fit.Min(), open.Line, open.Text, readings);
        }

        return new DateVerdict(fit.Min(), fit.Contains(DateStyle.Ymd) ? 0 : proof?.Line ?? 0, proof?.Text ?? "", []);
    }

    internal static string Example(DateStyle style) => style switch
    {
        DateStyle.Ymd => "with year, month, day, such as 2026-03-25",
        DateStyle.Dmy => "with day, month, year, such as 25.03.2026",
        _ => "with month, day, year, such as 03/25/2026",
    };

    private static string Day(DateTime day) => day.ToString("d MMMM yyyy", CultureInfo.InvariantCulture);
}

using System.Text.RegularExpressions;

namespace Acquire.Formats.Csv;

/// <summary>
/// Text for a CSV cell that a spreadsheet will not take for a formula. Source of the list of beginnings: OWASP, "CSV Injection"
/// (= + - @ tab, carriage return, line feed, and the full-width forms of the first four).
/// </summary>
/// <remarks>
/// An apostrophe goes in front. Text that begins with an apostrophe gets another, so that taking one away always gives the text back.
/// Plain numbers stay as they are: -0.03 is no formula.
/// </remarks>
internal static partial class CellText
{
    private const char Guard = '\'';

    private const string Risky = "=+-@\t\r\n\0'＝＋－＠";

    public static string? Defused(string? text) =>
        text is [var first, ..] && Risky.Contains(first, StringComparison.Ordinal) && !PlainNumber().IsMatch(text) ? Guard + text : text;

    public static string? Number(double? value) =>
        value is { } number && double.IsFinite(number) ? (number + 0.0).ToString("R", CultureInfo.InvariantCulture) : null;

    public static string Number(int value) => value.ToString(CultureInfo.InvariantCulture);

    public static string Time(DateTimeOffset time) => Written.Time(time);

    [GeneratedRegex(@"\A[+-]?[0-9]+(\.[0-9]+)?\z", RegexOptions.CultureInvariant)]
    private static partial Regex PlainNumber();
}

using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Lines;

/// <summary>Writes a density as the instrument would: rounded, signed and padded in its own way.</summary>
internal static class NumberWriter
{
    /// <summary>The text of a density; null when it does not fit the width.</summary>
    /// <remarks>Halves round away from zero, as a display does (common practice, no source).</remarks>
    public static string? Write(Density density, NumberFormat format, int? width)
    {
        var decimals = format.Decimals ?? Math.Max(density.Decimals, 1);
        var rounded = Math.Round(density.Value, decimals, MidpointRounding.AwayFromZero);
        var digits = Math.Abs(rounded).ToString("F" + decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
        var written = format.DecimalMark switch
        {
            DecimalMark.Comma => digits.Replace('.', ','),
            DecimalMark.Implied => digits.Replace(".", ""),
            _ => digits,
        };
        return Fit(Sign(rounded, format.Sign), written, width);
    }

    /// <summary>The first over-range mark that fits the width; null when none does.</summary>
    public static string? WriteMark(NumberFormat format, int? width) =>
        format.OverRange.FirstOrDefault(m => m.Length <= (width ?? int.MaxValue))?.PadLeft(width ?? 0);

    private static string Sign(decimal value, SignHabit habit) => (value < 0, habit) switch
    {
        (true, _) => "-",
        (_, SignHabit.Always) => "+",
        (_, SignHabit.BlankForPlus) => " ",
        _ => "",
    };

    private static string? Fit(string sign, string digits, int? width)
    {
        var text = sign + digits;
        if (width is not { } room)
        {
            return text;
        }

        // A blank that stands for plus needs no room of its own when the field is full.
        text = text.Length > room ? text.TrimStart(' ') : text;
        return text.Length > room ? null : text.PadLeft(room);
    }
}

using System.Numerics;
using System.Text;

namespace LearningBenchmark.Formats;

/// <summary>Writes what an instrument of an invented format sends. In texts <c>%n</c> is a running number of three digits,
/// <c>%u</c> one without zeros in front, <c>%d</c> and <c>%y</c> a date, <c>%t</c> a time, <c>%m</c> a date with the month's
/// name, <c>%i</c> an identification, <c>%s</c> a status mark, <c>%x</c> one that may be missing, <c>%c</c>, <c>%k</c>,
/// <c>%w</c> a date, an hour and a day in other ways.</summary>
public sealed class FormatWriter(InventedFormat format, Random random)
{
    private int _number = random.Next(1, 90);
    private DateTime _at = new(2026, random.Next(1, 13), random.Next(1, 28), 9, random.Next(60), random.Next(60));

    /// <summary>Lets time pass: another day, other numbers.</summary>
    public void Later()
    {
        _number += random.Next(5, 200);
        _at = _at.AddDays(random.Next(1, 400)).AddSeconds(random.Next(80000));
    }

    /// <summary>The lines of a reading without what frames them; the densities' lines are <paramref name="own"/>.</summary>
    /// <param name="values">By channel; null is beyond the range.</param>
    /// <param name="own">Which of the lines hold densities.</param>
    public List<string> Lines(Dictionary<Channel, decimal?> values, out Range own)
    {
        _number++;
        _at = _at.AddSeconds(random.Next(3, 50));
        var lines = format.Header.Select(Fill).ToList();
        var start = lines.Count;
        if (format.ChannelPerLine)
        {
            lines.AddRange(format.Channels.Select(c => Fill(format.Prefix) + Field(c, values[c]) + Fill(format.Suffix)));
        }
        else
        {
            lines.Add(Fill(format.Prefix) + All(values) + Fill(format.Suffix));
        }

        own = start..lines.Count;
        lines.AddRange(format.Footer.Select(Fill));
        return lines;
    }

    public List<string> Opening() => [.. format.Opening.Select(Fill)];

    /// <summary>Lines as bytes on the wire.</summary>
    public byte[] Frame(IEnumerable<string> lines)
    {
        var end = format.Flaw == Flaw.NoLineEnd ? "" : format.LineEnd;
        var text = string.Concat(lines.Select(l => format.StartAndEnd ? $"\u0002{l}\u0003{end}" : l + end));
        return [.. Encoding.Latin1.GetBytes(text).Select(Parity)];
    }

    private string All(Dictionary<Channel, decimal?> values)
    {
        var separator = format.Separator == "mark" ? format.Mark.ToString() : format.Separator;
        var once = string.Join(separator, format.Channels.Select(c => Field(c, values[c])));
        return format.Again == "line" ? once + separator + once : once;
    }

    /// <summary>A density as the instrument writes it.</summary>
    public string Number(decimal value)
    {
        if (format.ExponentDecimals > 0)
        {
            var digitsOf = "0." + new string('0', format.ExponentDecimals) + "E+00";
            return SignOf(value) + ((double)Math.Abs(value)).ToString(digitsOf, CultureInfo.InvariantCulture).Replace('.', format.Mark);
        }

        if (format.Habit == RareHabit.Hexadecimal)
        {
            var whole = (int)(Math.Abs(value) * (format.Decimals == 3 ? 1000 : 100));
            return SignOf(value) + whole.ToString("X" + format.ImpliedDigits, CultureInfo.InvariantCulture);
        }

        var digits = Math.Abs(value).ToString("F" + format.Decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
        digits = format.Mark == '\0' ? Implied(digits) : digits.Replace('.', format.Mark);
        digits = !format.LeadingZero && format.Mark != '\0' && digits[0] == '0' ? digits[1..] : digits;
        return SignOf(value) + digits + new string('0', format.Scale);
    }

    private string SignOf(decimal value) => value < 0 ? "-" : format.Sign switch { '+' => "+", ' ' => " ", _ => "" };

    private string Implied(string digits)
    {
        digits = digits.Replace(".", "");
        return format.ImpliedDigits > 0 ? digits.PadLeft(format.ImpliedDigits - format.Scale, '0') : digits.TrimStart('0').PadLeft(1, '0');
    }

    private string Field(Channel channel, decimal? value)
    {
        var number = value is { } density ? Number(density) : format.OverRange;
        var label = format.Label.Replace('*', channel.Letter()[0]).Replace("&", channel.Word().ToUpperInvariant());
        number = number.PadLeft(format.Width, format.Habit == RareHabit.Leaders ? '.' : ' ') + Letter(value);
        return label + number + (format.Again is "" or "line" && !(format.Again == "line" && format.ChannelPerLine)
            ? "" : (format.Again == "line" ? " " : format.Again) + number);
    }

    private string Letter(decimal? value) => format.Letters.Length == 0 || value is null ? ""
        : format.Letters[value < 0.45m ? 0 : value < 1.3m ? 1 : 2].ToString();

    private byte Parity(byte b)
    {
        var odd = BitOperations.PopCount(b) % 2 == 1;
        return format.Parity switch
        {
            'e' when odd => (byte)(b | 0x80),
            'o' when !odd => (byte)(b | 0x80),
            'm' => (byte)(b | 0x80),
            _ => b,
        };
    }

    /// <summary>A counter in a column of its own begins anew when the column is full.</summary>
    private int Column(int number) => format.Habit == RareHabit.GluedCounter ? number % 1000 : number;

    private string Fill(string text) => text
        .Replace("%n", Column(_number).ToString("000", CultureInfo.InvariantCulture))
        .Replace("%u", _number.ToString(CultureInfo.InvariantCulture))
        .Replace("%d", _at.ToString("dd.MM.yyyy", CultureInfo.InvariantCulture))
        .Replace("%y", _at.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture))
        .Replace("%t", _at.ToString("HH:mm:ss", CultureInfo.InvariantCulture))
        .Replace("%m", _at.ToString("dd MMM yyyy", CultureInfo.InvariantCulture).ToUpperInvariant())
        .Replace("%i", $"{(char)('A' + random.Next(26))}{random.Next(10, 99)}{(char)('A' + random.Next(26))}")
        .Replace("%c", _at.ToString("yyyyMMdd", CultureInfo.InvariantCulture))
        .Replace("%k", _at.ToString("HH.mm", CultureInfo.InvariantCulture))
        .Replace("%w", _at.ToString("ddd", CultureInfo.InvariantCulture))
        .Replace("%x", _number % 2 == 0 ? "" : "?")
        .Replace("%b", Column(_number).ToString(CultureInfo.InvariantCulture).PadLeft(3))
        .Replace("%s", _number % 2 == 0 ? "S" : "U");
}

namespace Acquire.Instruments.Links;

/// <summary>Line settings in the usual short form, such as <c>9600 8N1</c>: bits per second, data bits, parity, stop bits.</summary>
public static class LinkWords
{
    /// <summary>The short form.</summary>
    public static string Of(LinkSettings link) => string.Create(
        CultureInfo.InvariantCulture, $"{link.Baud} {link.DataBits}{link.Parity.ToString()[0]}{link.StopBits}");

    /// <summary>Reads the short form; what it does not say has its default. Null for any other text, also for none.</summary>
    public static LinkSettings? TryParse(string? text)
    {
        if ((text ?? "").Split(' ') is not [var rate, [var data and ('7' or '8'), var letter, var stop and ('1' or '2')]]
            || !int.TryParse(rate, NumberStyles.None, CultureInfo.InvariantCulture, out var baud) || baud == 0)
        {
            return null;
        }

        var parity = Enum.GetValues<LineParity>().Cast<LineParity?>().FirstOrDefault(p => p.ToString()![0] == letter);
        return parity is { } known ? new LinkSettings { Baud = baud, DataBits = data - '0', Parity = known, StopBits = stop - '0' } : null;
    }
}

namespace LearningBenchmark.Formats;

/// <summary>Draws invented formats at random, over all the variations that serial instruments of this kind are known to have.</summary>
public static class FormatDrawer
{
    private static readonly string[] Prefixes =
        ["", "", "", "No. %n ", "%n ", "#%u ", "%d ", "%y %t ", "%t ", "%m ", "%i ", "T ", "Status M ", "D= ",
        "ID %i;", "%u) ", "No.%n: ", "\u0007", "\u001bE", "> ", "%c ", "%k ", "[%n] ", "(%u/36) ", "Dens. ", "%w %m %t "];

    private static readonly string[] Suffixes = [
        "", "", "", "", " D", " S", " %s", " No. %u", " %t", " %d %t", " ok", " T %i", "; %y", "*", " [%i]", " N=%u", " %x", "  ", " |"];
    private static readonly string[] Openings = [
        "READY",
        "STATUS M",
        "CAL OK",
        "DENSITY REPORT %d",
        "   R     G     B",
        "=========",
        "Ver 2.1 %m",
        "Err 12",
        "CAL",
        "LAMP 3",
        "Filter: R G B",
        "\u001b@",
        "Zero 0.00 0.00 0.00",
        "Dmax 4.00"];
    private static readonly string[] Headers = [
        "PATCH %u",
        "%d %t",
        "No. %n",
        "-- %i --",
        "READING %n AT %t",
        "STATUS M",
        "DATE %m",
        "%c",
        "\f",
        "Sample %i",
        "Operator: evening class",
        "[%u]",
        "R",
        "%u."];
    private static readonly string[] Footers = [
        "---------", "END", "", "== %n ==", "PRESS KEY", "\u0007", "\f", "Err %u", "* * *", "OK", "%t"];
    private static readonly string[] Marks = [">4.0", "HI", "----", "*.**", "H", "OVER", "+++", "^^^"];

    public static InventedFormat Draw(Random random)
    {
        var channels = random.Next(10) switch { < 5 => "RGB", < 7 => "VRGB", < 9 => "RGBV", _ => "BGR" };
        ImmutableArray<Channel> order = [.. channels.Select(c => Channels.Parse(c.ToString()))];
        var perLine = random.Next(4) == 0;
        var label = perLine
            ? One(random, "* ", "*=", "*: ", "D* ", "*", "D(*) ", "", "")
            : One(random, "", "", "", "", "* ", "*=", "*:", "D*=", "*", "D(*)=");
        var mark = One(random, '.', '.', '.', ',', '\0');
        var fixedWidth = random.Next(3) == 0;
        var implied = mark == '\0';
        var decimals = random.Next(3) == 0 ? 3 : 2;
        var impliedDigits = fixedWidth && random.Next(2) == 0 ? 0 : decimals + random.Next(1, 3);
        var hidesVisual = order.Length == 4 && random.Next(2) == 0 && !(perLine && label.Length == 0);
        var flaw = random.Next(8) == 0 ? (Flaw?)random.Next(6) : null;
        flaw = flaw == Flaw.EqualVisual && !hidesVisual ? null : flaw;
        var overRange = flaw is null && random.Next(3) == 0 ? One(random, Marks) : "";
        return new InventedFormat
        {
            Channels = order,
            Shown = hidesVisual ? [.. order.Where(c => c != Channel.Visual)] : order,
            ChannelPerLine = perLine,
            Label = label,
            Separator = label is "*=" or "*:"
                ? One(random, " ", "", "  ", ", ")
                : One(random, " ", " ", "  ", ";", "\t", " / ", "|", " | ", "   ", ":", implied ? "," : ";"),
            Mark = mark,
            Decimals = decimals,
            LeadingZero = random.Next(4) > 0,
            ImpliedDigits = impliedDigits,
            Sign = implied && impliedDigits == 0 ? '-' : One(random, '+', '-', ' '),
            Width = fixedWidth ? decimals + random.Next(4, 6) : 0,
            Prefix = One(random, Prefixes),
            Suffix = One(random, Suffixes),
            Opening = random.Next(2) == 0 ? [One(random, Openings)] : [],
            Header = random.Next(3) == 0 ? [One(random, Headers)] : [],
            Footer = random.Next(4) == 0 ? [One(random, Footers)] : [],
            LineEnd = One(random, "\r\n", "\r", "\n", "\n\r", "\r\n\r\n"),
            StartAndEnd = flaw != Flaw.NoLineEnd && random.Next(6) == 0,
            Parity = random.Next(5) == 0 ? One(random, 'e', 'o', 'm') : 'n',
            OverRange = overRange,
            OverRangeShown = random.Next(2) == 0,
            Flaw = flaw,
        };
    }

    private static T One<T>(Random random, params T[] choices) => choices[random.Next(choices.Length)];
}

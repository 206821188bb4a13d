using System.Text.Json;
using Acquire.Formats.Json;
using Acquire.Instruments.Links;
using Acquire.Instruments.ProfileFiles;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Learning;

/// <summary>Writes a profile as the JSON that <see cref="ProfileReader"/> reads, in the order of the
/// format's description; what has its default is left out.</summary>
public static class ProfileWriter
{
    /// <summary>The profile as a file; its hash is not written.</summary>
    public static string Write(DeviceProfile profile)
    {
        var sections = new List<string>
        {
            $"\"name\": {Text(profile.Name)}",
            $"\"title\": {Text(profile.Title)}",
            $"\"description\": {Text(profile.Description)}",
            $"\"link\": {SectionWriter.Link(profile.Link)}",
            $"\"framing\": {SectionWriter.Framing(profile.Framing)}",
            $"\"number\": {SectionWriter.Number(profile.Number)}",
            $"\"lines\": {List(profile.Rules.Select(Rule))}",
        };
        if (profile.Assembly is { } assembly)
        {
            var order = string.Join(", ", assembly.Order.Select(c => Text(c.Word())));
            sections.Add(FormattableString.Invariant(
                $"\"assembly\": {{ \"order\": [{order}], \"timeoutMs\": {assembly.Timeout.TotalMilliseconds} }}"));
        }

        if (CommandWriter.Write(profile.Commands) is { } commands)
        {
            sections.Add($"\"commands\": {commands}");
        }

        sections.Add($"\"samples\": {List(profile.Samples.Select(Sample))}");
        return $"{{\n  {string.Join(",\n  ", sections)}\n}}\n";
    }

    internal static string Text(string text) => JsonSerializer.Serialize(text, JsonText.Options);

    private static string List(IEnumerable<string> entries) => $"[\n    {string.Join(",\n    ", entries)}\n  ]";

    private static string Rule(LineRule rule)
    {
        var line = rule.Template is { } template ? $"\"template\": {Text(template.Text)}" : $"\"pattern\": {Text(rule.Pattern!)}";
        return $"{{ {line}, \"means\": {Text(ProfileWords.Word(rule.Meaning))} }}";
    }

    private static string Sample(ProfileSample sample)
    {
        var gives = sample.Identity is { } identity ? CommandWriter.Identity(identity)
            : sample.Densities is { } densities
            ? $"{{ {string.Join(", ", densities.Present.Select(c => $"{Text(c.Word())}: {densities[c]}"))} }}"
            : Text(ProfileWords.Word(sample.Meaning));
        return $"{{ \"lines\": [{string.Join(", ", sample.Lines.Select(Text))}], \"gives\": {gives} }}";
    }
}

/// <summary>The sections of a profile that hold settings, each on one line.</summary>
internal static class SectionWriter
{
    public static string Link(LinkSettings link)
    {
        var usual = new LinkSettings();
        return Section(
            Number("baud", link.Baud),
            link.DataBits == usual.DataBits ? null : Number("dataBits", link.DataBits),
            link.Parity == usual.Parity ? null : Word("parity", link.Parity),
            link.StopBits == usual.StopBits ? null : Number("stopBits", link.StopBits),
            link.Handshake == usual.Handshake ? null : Word("handshake", link.Handshake),
            link.Dtr == usual.Dtr ? null : Word("dtr", link.Dtr),
            link.Rts == usual.Rts ? null : Word("rts", link.Rts),
            link.MaskTopBit ? "\"maskTopBit\": true" : null,
            link.SettleAfterOpen > TimeSpan.Zero ? Number("settleAfterOpenMs", (int)link.SettleAfterOpen.TotalMilliseconds) : null);
    }

    public static string Framing(FramingSettings framing)
    {
        var usual = new FramingSettings();
        return Section(
            $"\"lineEnd\": {ProfileWriter.Text(framing.LineEnd.ToString().ToLowerInvariant())}",
            framing.IdleGap is { } gap ? Number("idleGapMs", (int)gap.TotalMilliseconds) : null,
            framing.MaxLength == usual.MaxLength ? null : Number("maxLength", framing.MaxLength),
            framing.Start is { } start ? Byte("start", start) : null,
            framing.End is { } end ? Byte("end", end) : null);
    }

    public static string Number(NumberFormat number) => Section(
        Word("decimalMark", number.DecimalMark),
        number.Decimals is { } decimals ? Number("decimals", decimals) : "\"decimals\": null",
        number.WholeDigits is { } whole ? Number("wholeDigits", whole) : null,
        number.Base == 10 ? null : Number("base", number.Base),
        number.ExponentDigits is { } exponent ? Number("exponentDigits", exponent) : null,
        number.ShownDecimals is { } shown ? Number("shownDecimals", shown) : null,
        number.Rounding == Rounding.Exact ? null : Word("rounding", number.Rounding),
        Word("sign", number.Sign),
        number.OverRange.IsDefaultOrEmpty ? null : $"\"overRange\": [{string.Join(", ", number.OverRange.Select(ProfileWriter.Text))}]");

    private static string Section(params IEnumerable<string?> entries) => $"{{ {string.Join(", ", entries.OfType<string>())} }}";

    private static string Number(string name, int value) => FormattableString.Invariant($"\"{name}\": {value}");

    private static string Byte(string name, byte value) =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"\"{name}\": \"{value switch { 0x02 => "STX", 0x03 => "ETX", 0x04 => "EOT", 0x17 => "ETB", _ => $"0x{value:X2}" }}\"");

    /// <summary>An enumeration's name as the format writes it, such as <c>blank-for-plus</c>.</summary>
    private static string Word<T>(string name, T value)
        where T : struct, Enum
    {
        var letters = value.ToString().Select((c, i) => char.IsUpper(c) ? (i > 0 ? "-" : "") + char.ToLowerInvariant(c) : c.ToString());
        return $"\"{name}\": \"{string.Concat(letters)}\"";
    }
}

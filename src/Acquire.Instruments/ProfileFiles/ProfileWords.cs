using System.Text.Json;
using Acquire.Instruments.Links;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.ProfileFiles;

/// <summary>The words of a profile's JSON and what they stand for. The schema has refused all others.</summary>
internal static class ProfileWords
{
    public static LineParity Parity(string word) => Enum.Parse<LineParity>(word, ignoreCase: true);

    public static ControlLine ControlLine(string word) => Enum.Parse<ControlLine>(word, ignoreCase: true);

    public static LineEnd LineEnd(string word) => Enum.Parse<LineEnd>(word, ignoreCase: true);

    public static DecimalMark DecimalMark(string word) => Enum.Parse<DecimalMark>(word, ignoreCase: true);

    public static Handshake Handshake(string word) => Enum.Parse<Handshake>(word.Replace("-", ""), ignoreCase: true);

    public static SignHabit Sign(string word) => Enum.Parse<SignHabit>(word.Replace("-", ""), ignoreCase: true);

    public static LineMeaning Meaning(string word) => word switch
    {
        "reading" => LineMeaning.Reading,
        "channel" => LineMeaning.Partial,
        "over-range" => LineMeaning.OverRange,
        "error" => LineMeaning.Error,
        "calibration" => LineMeaning.Calibration,
        "ignore" => LineMeaning.Ignored,
        "unmatched" => LineMeaning.Unmatched,
        _ => throw new ArgumentOutOfRangeException(nameof(word), word, null),
    };

    public static string Word(LineMeaning meaning) => meaning switch
    {
        LineMeaning.Reading => "reading",
        LineMeaning.Partial => "channel",
        LineMeaning.OverRange => "over-range",
        LineMeaning.Error => "error",
        LineMeaning.Calibration => "calibration",
        LineMeaning.Ignored => "ignore",
        LineMeaning.Unmatched => "unmatched",
        _ => throw new ArgumentOutOfRangeException(nameof(meaning), meaning, null),
    };

    /// <summary>A byte by character, control name (ASCII, ISO/IEC 646) or hexadecimal.</summary>
    public static byte Character(string text) => text switch
    {
        "SOH" => 0x01,
        "STX" => 0x02,
        "ETX" => 0x03,
        "EOT" => 0x04,
        "ETB" => 0x17,
        "FS" => 0x1C,
        "GS" => 0x1D,
        "RS" => 0x1E,
        "US" => 0x1F,
        ['0', 'x', .. var digits] => byte.Parse(digits, NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture),
        _ => (byte)text[0],
    };

    /// <summary>A property's value, or a default when it is not there.</summary>
    public static T Get<T>(this JsonElement element, string name, Func<JsonElement, T> read, T otherwise) =>
        element.TryGetProperty(name, out var value) ? read(value) : otherwise;
}

using System.Text.Json;
using Acquire.Instruments.Links;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.ProfileFiles;

/// <summary>The sections of a profile's JSON as objects; what is left out takes the defaults of the objects.</summary>
internal static class ProfileSections
{
    private static readonly JsonElement Nothing = JsonDocument.Parse("{}").RootElement;

    public static JsonElement Section(JsonElement root, string name) => root.Get(name, e => e, Nothing);

    public static LinkSettings Link(JsonElement e)
    {
        var d = new LinkSettings();
        return new LinkSettings
        {
            Baud = e.Get("baud", Whole, d.Baud),
            DataBits = e.Get("dataBits", Whole, d.DataBits),
            Parity = e.Get("parity", v => ProfileWords.Parity(v.GetString()!), d.Parity),
            StopBits = e.Get("stopBits", Whole, d.StopBits),
            Handshake = e.Get("handshake", v => ProfileWords.Handshake(v.GetString()!), d.Handshake),
            Dtr = e.Get("dtr", v => ProfileWords.ControlLine(v.GetString()!), d.Dtr),
            Rts = e.Get("rts", v => ProfileWords.ControlLine(v.GetString()!), d.Rts),
            MaskTopBit = e.Get("maskTopBit", v => v.GetBoolean(), d.MaskTopBit),
            SettleAfterOpen = e.Get("settleAfterOpenMs", Milliseconds, d.SettleAfterOpen),
        };
    }

    public static FramingSettings Framing(JsonElement e)
    {
        var d = new FramingSettings();
        return new FramingSettings
        {
            LineEnd = e.Get("lineEnd", v => ProfileWords.LineEnd(v.GetString()!), d.LineEnd),
            IdleGap = e.Get("idleGapMs", v => Milliseconds(v), d.IdleGap),
            MaxLength = e.Get("maxLength", Whole, d.MaxLength),
            Start = e.Get("start", v => ProfileWords.Character(v.GetString()!), d.Start),
            End = e.Get("end", v => ProfileWords.Character(v.GetString()!), d.End),
        };
    }

    public static NumberFormat Number(JsonElement e)
    {
        var d = new NumberFormat();
        return new NumberFormat
        {
            DecimalMark = e.Get("decimalMark", v => ProfileWords.DecimalMark(v.GetString()!), d.DecimalMark),
            Decimals = e.Get("decimals", v => v.ValueKind == JsonValueKind.Null ? null : Whole(v), d.Decimals),
            WholeDigits = e.Get("wholeDigits", v => v.ValueKind == JsonValueKind.Null ? null : Whole(v), d.WholeDigits),
            Base = e.Get("base", Whole, d.Base),
            ExponentDigits = e.Get("exponentDigits", v => v.ValueKind == JsonValueKind.Null ? null : Whole(v), d.ExponentDigits),
            ShownDecimals = e.Get("shownDecimals", v => v.ValueKind == JsonValueKind.Null ? null : Whole(v), d.ShownDecimals),
            Rounding = e.Get("rounding", v => Enum.Parse<Rounding>(v.GetString()!, ignoreCase: true), d.Rounding),
            Sign = e.Get("sign", v => ProfileWords.Sign(v.GetString()!), d.Sign),
            OverRange = e.Get("overRange", v => [.. v.EnumerateArray().Select(m => m.GetString()!)], d.OverRange),
        };
    }

    public static AssemblySettings Assembly(JsonElement e) => new(
        [.. e.GetProperty("order").EnumerateArray().Select(c => Channels.Parse(c.GetString()))],
        e.Get("timeoutMs", Milliseconds, TimeSpan.FromSeconds(2)));

    public static ProfileSample Sample(JsonElement e)
    {
        var gives = e.GetProperty("gives");
        var densities = gives.ValueKind == JsonValueKind.Object
            ? ChannelDensities.Of(gives.EnumerateObject().Select(
                p => KeyValuePair.Create(Channels.Parse(p.Name), new Density(p.Value.GetDecimal()))))
            : null;
        return new ProfileSample(
            [.. e.GetProperty("lines").EnumerateArray().Select(l => l.GetString()!)],
            densities is null ? ProfileWords.Meaning(gives.GetString()!) : LineMeaning.Reading,
            densities);
    }

    /// <summary>A sample of an answer that says what the instrument is.</summary>
    public static ProfileSample IdentitySample(JsonElement e) =>
        new([.. e.GetProperty("lines").EnumerateArray().Select(l => l.GetString()!)], LineMeaning.Ignored, null)
        {
            Identity = InstrumentIdentity.Of(place => e.GetProperty("gives").Get(place, v => v.GetString(), null)),
        };

    // The schema calls 2.0 and 2e1 whole numbers too, which GetInt32 refuses.
    private static int Whole(JsonElement e) => (int)e.GetDecimal();

    public static TimeSpan Milliseconds(JsonElement e) => TimeSpan.FromMilliseconds(Whole(e));
}

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
        ['0', 'x', .. var digits] => byte.Parse(digits, NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture),
        _ => ByteText.Control(text) ?? (byte)text[0],
    };

    /// <summary>A property's value, or a default when it is not there.</summary>
    public static T Get<T>(this JsonElement element, string name, Func<JsonElement, T> read, T otherwise) =>
        element.TryGetProperty(name, out var value) ? read(value) : otherwise;
}

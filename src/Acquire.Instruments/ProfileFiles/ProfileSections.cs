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

    // The schema calls 2.0 and 2e1 whole numbers too, which GetInt32 refuses.
    private static int Whole(JsonElement e) => (int)e.GetDecimal();

    private static TimeSpan Milliseconds(JsonElement e) => TimeSpan.FromMilliseconds(Whole(e));
}

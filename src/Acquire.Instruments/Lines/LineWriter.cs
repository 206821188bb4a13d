using System.Text;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Lines;

/// <summary>Writes the lines that an instrument of a profile would send: the inverse of reading them, for the simulated instrument. Each
/// element is one line with start, end and terminator; where only a pause ends a line, the caller pauses after each.</summary>
/// <param name="profile">The profile; its rules with templates can be written, those with patterns cannot.</param>
public sealed class LineWriter(DeviceProfile profile)
{
    private readonly ImmutableArray<LineTemplate> _whole = Templates(profile, LineMeaning.Reading);
    private readonly ImmutableArray<LineTemplate> _single = Templates(profile, LineMeaning.Partial);

    /// <summary>The channels a reading of this profile carries, which <see cref="WriteReading"/> must be given.</summary>
    public ImmutableArray<Channel> Channels => _whole is [var first, ..] ? ChannelsOf(first) : profile.Assembly?.Order ?? [];

    /// <summary>The lines of one reading, rounded to the profile's decimals. A density
    /// that does not fit its place is written as over-range.</summary>
    /// <exception cref="ArgumentException">A channel is missing, or the profile cannot write the reading.</exception>
    public ImmutableArray<byte[]> WriteReading(ChannelDensities densities) => Write(densities, null);

    /// <summary>The lines of a reading with one channel beyond the range: the profile's over-range mark in its place, or else its
    /// over-range line; empty when the profile has neither.</summary>
    /// <exception cref="ArgumentException">As for <see cref="WriteReading"/>.</exception>
    public ImmutableArray<byte[]> WriteBeyondRange(ChannelDensities densities, Channel channel) =>
        profile.Number.OverRange.IsDefaultOrEmpty ? WriteFixed(LineMeaning.OverRange) : Write(densities, channel);

    /// <summary>The line of the profile's first error rule; empty when the profile has none.</summary>
    public ImmutableArray<byte[]> WriteError() => WriteFixed(LineMeaning.Error);

    /// <summary>The answer to the profile's identify command; empty when the profile has none. What does not fit a place of fixed width is
    /// cut to it.</summary>
    public ImmutableArray<byte[]> WriteAnswer(InstrumentIdentity identity) => profile.Commands.Identify is { } identify
        ? [LineEnvelope.Wrap(string.Concat(identify.Answer.Parts.Select(p => AnswerText(p, identity))), profile.Framing)]
        : [];

    private static string AnswerText(TemplatePart part, InstrumentIdentity identity)
    {
        if (part is not TemplatePart.Word { Name: { } name, Width: var width })
        {
            return TextOf(part, p => throw new ArgumentException($"{p} is no part of an answer.", nameof(part)));
        }

        var said = identity[name] ?? "X";
        return width is { } room ? said.PadRight(room)[..room] : said;
    }

    private static ImmutableArray<LineTemplate> Templates(DeviceProfile profile, LineMeaning meaning) =>
        [.. profile.Rules.Where(r => r.Meaning == meaning).Select(r => r.Template).OfType<LineTemplate>()];

    private static ImmutableArray<Channel> ChannelsOf(LineTemplate template) =>
        [.. template.Parts.OfType<TemplatePart.ChannelValue>().Select(v => v.Channel).Distinct()];

    private ImmutableArray<byte[]> WriteFixed(LineMeaning meaning) =>
        Templates(profile, meaning) is [var template, ..] ? [Wrap(template, _ => "")] : [];

    private ImmutableArray<byte[]> Write(ChannelDensities densities, Channel? beyond)
    {
        if (_whole.FirstOrDefault(t => ChannelsOf(t).All(c => densities[c] is not null)) is { } whole)
        {
            return [Wrap(whole, part => Value(part, null))];
        }

        if (_whole is [var wanted, ..])
        {
            throw Missing(ChannelsOf(wanted).First(c => densities[c] is null));
        }

        return profile.Assembly is { } assembly
            ? [.. assembly.Order.Select(c => Wrap(Single(c), part => Value(part, c)))]
            : throw new ArgumentException(
                $"Profile '{profile.Name}' has no template for a reading, so none can be written.", nameof(densities));

        string Value(TemplatePart part, Channel? next)
        {
            var (channel, width) = part switch
            {
                TemplatePart.ChannelValue value => (value.Channel, value.Width),
                TemplatePart.NextValue value when next is { } following => (following, value.Width),
                _ => throw new ArgumentException($"{part} takes no density.", nameof(part)),
            };
            var density = densities[channel] ?? throw Missing(channel);
            return (channel == beyond ? null : NumberWriter.Write(density, profile.Number, width))
                ?? NumberWriter.WriteMark(profile.Number, width)
                ?? throw new ArgumentException(
                    $"{channel.Word()} {density} does not fit its {width} characters in profile '{profile.Name}', which has no over-range "
                    + "mark that does.",
                    nameof(part));
        }
    }

    private ArgumentException Missing(Channel channel) =>
        new($"Profile '{profile.Name}' sends {channel.Word()} too, and the reading to write has no density for it.");

    private LineTemplate Single(Channel channel) =>
        _single.FirstOrDefault(
            t => t.Parts.Any(p => p is TemplatePart.NextValue || p is TemplatePart.ChannelValue v && v.Channel == channel))
        ?? throw new ArgumentException(
            $"Profile '{profile.Name}' has no template for {channel.Word()}, so none can be written.", nameof(channel));

    private byte[] Wrap(LineTemplate template, Func<TemplatePart, string> value) =>
        LineEnvelope.Wrap(string.Concat(template.Parts.Select(p => TextOf(p, value))), profile.Framing);

    private static string TextOf(TemplatePart part, Func<TemplatePart, string> value) => part switch
    {
        TemplatePart.Literal literal => literal.Text,
        TemplatePart.Blanks => " ",
        TemplatePart.Word word => new string('X', word.Width ?? 1),
        TemplatePart.Number number => "1".PadLeft(number.Width ?? 1, '0'),
        TemplatePart.Letter => "X",
        TemplatePart.Leader => "...",
        TemplatePart.Skip => "",
        _ => value(part),
    };
}

/// <summary>Puts around a line what the instrument sends around it.</summary>
internal static class LineEnvelope
{
    public static byte[] Wrap(string text, FramingSettings framing) => Wrap(Encoding.Latin1.GetBytes(text), framing);

    public static byte[] Wrap(ReadOnlySpan<byte> line, FramingSettings framing) =>
    [
        .. One(framing.Start),
        .. line,
        .. One(framing.End),
        .. Terminator(framing.LineEnd),
    ];

    private static ReadOnlySpan<byte> Terminator(LineEnd end) => end switch
    {
        LineEnd.Any or LineEnd.CrLf => "\r\n"u8,
        LineEnd.LfCr => "\n\r"u8,
        LineEnd.Cr => "\r"u8,
        LineEnd.Lf => "\n"u8,
        _ => [],
    };

    private static byte[] One(byte? b) => b is { } value ? [value] : [];
}

/// <summary>Writes a density as the instrument would: rounded, signed and padded in its own way.</summary>
internal static class NumberWriter
{
    /// <summary>The text of a density; null when it does not fit the width.</summary>
    /// <remarks>Halves round away from zero, as a display does (common practice, no source).</remarks>
    public static string? Write(Density density, NumberFormat format, int? width)
    {
        var decimals = format.Decimals ?? Math.Max(density.Decimals, 1);
        var rounded = Math.Round(density.Value, format.ShownDecimals ?? decimals, MidpointRounding.AwayFromZero);
        return Fit(Sign(rounded, format.Sign), Digits(Math.Abs(rounded), format, decimals), width);
    }

    private static string Digits(decimal value, NumberFormat format, int decimals)
    {
        var (whole, noughts) = (format.WholeDigits ?? 1, new string('0', decimals));
        if (format.Base == 16)
        {
            var units = (long)(value * (decimal)Math.Pow(10, decimals));
            return units.ToString(FormattableString.Invariant($"X{whole + decimals}"), CultureInfo.InvariantCulture);
        }

        var exponent = format.ExponentDigits is { } digits ? "E+" + new string('0', digits) : "";
        var written = value.ToString($"{new string('0', whole)}.{noughts}{exponent}", CultureInfo.InvariantCulture);
        return format.DecimalMark switch
        {
            DecimalMark.Comma => written.Replace('.', ','),
            DecimalMark.Implied => written.Replace(".", ""),
            _ => written,
        };
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

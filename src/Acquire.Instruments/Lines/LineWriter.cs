using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Lines;

/// <summary>
/// Writes the lines that an instrument of a profile would send: the inverse of reading them, for the simulated
/// instrument. Each element is one line with start, end and terminator; where only a pause ends a line, the caller pauses after each.
/// </summary>
/// <param name="profile">The profile; its rules with templates can be written, those with patterns cannot.</param>
public sealed class LineWriter(DeviceProfile profile)
{
    private readonly ImmutableArray<LineTemplate> _whole = Templates(profile, LineMeaning.Reading);
    private readonly ImmutableArray<LineTemplate> _single = Templates(profile, LineMeaning.Partial);

    /// <summary>The channels a reading of this profile carries, which <see cref="WriteReading"/> must be given.</summary>
    public ImmutableArray<Channel> Channels => _whole is [var first, ..] ? ChannelsOf(first) : profile.Assembly?.Order ?? [];

    /// <summary>
    /// The lines of one reading, rounded to the profile's decimals. A density that does not fit its place is written as over-range.
    /// </summary>
    /// <exception cref="ArgumentException">A channel is missing, or the profile cannot write the reading.</exception>
    public ImmutableArray<byte[]> WriteReading(ChannelDensities densities) => Write(densities, null);

    /// <summary>
    /// The lines of a reading with one channel beyond the range: the profile's over-range mark in its place, or else its over-range
    /// line; empty when the profile has neither.
    /// </summary>
    /// <exception cref="ArgumentException">As for <see cref="WriteReading"/>.</exception>
    public ImmutableArray<byte[]> WriteBeyondRange(ChannelDensities densities, Channel channel) =>
        profile.Number.OverRange.IsDefaultOrEmpty ? WriteFixed(LineMeaning.OverRange) : Write(densities, channel);

    /// <summary>The line of the profile's first error rule; empty when the profile has none.</summary>
    public ImmutableArray<byte[]> WriteError() => WriteFixed(LineMeaning.Error);

    private static ImmutableArray<LineTemplate> Templates(DeviceProfile profile, LineMeaning meaning) =>
        [.. profile.Rules.Where(r => r.Meaning == meaning).Select(r => r.Template).OfType<LineTemplate>()];

    private static ImmutableArray<Channel> ChannelsOf(LineTemplate template) =>
        [.. template.Parts.OfType<TemplatePart.ChannelValue>().Select(v => v.Channel)];

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
                    $"{channel.Word()} {density} does not fit its {width} characters in profile '{profile.Name}', which has no "
                    + $"over-range mark that does.",
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
        TemplatePart.Skip => "",
        _ => value(part),
    };
}

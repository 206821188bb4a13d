using Acquire.Instruments.Links;

namespace Acquire.Instruments.Profiles;

/// <summary>How one instrument's lines are framed and parsed, with samples that prove it.</summary>
/// <param name="Name">The short word used in commands, such as <c>labelled-line</c>.</param>
/// <param name="Title">What it is, in a few words.</param>
/// <param name="Description">What the lines look like and when to take this profile.</param>
/// <param name="Link">How the serial line is set unless the user says otherwise.</param>
/// <param name="Framing">How bytes are cut into lines.</param>
/// <param name="Number">How densities are written.</param>
/// <param name="Rules">What lines mean; the first rule that fits wins.</param>
/// <param name="Assembly">How single channels make a reading; null when readings come on one line.</param>
/// <param name="Samples">Lines with what they must give.</param>
/// <param name="Hash">SHA-256 of the profile's text, lower-case hexadecimal.</param>
public sealed record DeviceProfile(
    string Name,
    string Title,
    string Description,
    LinkSettings Link,
    FramingSettings Framing,
    NumberFormat Number,
    ImmutableArray<LineRule> Rules,
    AssemblySettings? Assembly,
    ImmutableArray<ProfileSample> Samples,
    string Hash)
{
    /// <summary>The JSON it was read from, so that it can be kept beside what was read with it.</summary>
    public string Text { get; init; } = "";
}

/// <summary>How the channels of an instrument that sends one channel per line make one reading.</summary>
/// <param name="Order">The channels of a reading in the order in which they come.</param>
/// <param name="Timeout">How long after the last channel an unfinished reading is given up.</param>
public sealed record AssemblySettings(ImmutableArray<Channel> Order, TimeSpan Timeout);

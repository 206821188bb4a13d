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
    string Name, string Title, string Description, LinkSettings Link, FramingSettings Framing, NumberFormat Number,
    ImmutableArray<LineRule> Rules, AssemblySettings? Assembly, ImmutableArray<ProfileSample> Samples, string Hash)
{
    /// <summary>The JSON it was read from, so that it can be kept beside what was read with it.</summary>
    public string Text { get; init; } = "";

    /// <summary>What may be sent to it. Default nothing.</summary>
    public ProfileCommands Commands { get; init; } = ProfileCommands.None;
}

/// <summary>How the channels of an instrument that sends one channel per line make one reading.</summary>
/// <param name="Order">The channels of a reading in the order in which they come.</param>
/// <param name="Timeout">How long after the last channel an unfinished reading is given up.</param>
public sealed record AssemblySettings(ImmutableArray<Channel> Order, TimeSpan Timeout);

/// <summary>What a line looks like and what it means. Exactly one of template and pattern is set.</summary>
/// <param name="Meaning">Reading, Partial, OverRange, Error, Calibration or Ignored.</param>
/// <param name="Template">The line as the user sees it, with named places.</param>
/// <param name="Pattern">A regular expression for the linear-time engine, the way out for odd lines; groups are named like places.</param>
public sealed record LineRule(LineMeaning Meaning, LineTemplate? Template, string? Pattern);

/// <summary>Lines in a row, and what the last of them must give.</summary>
/// <param name="Lines">The lines without terminators.</param>
/// <param name="Meaning">What the last line is.</param>
/// <param name="Densities">The reading, when the meaning is a reading; otherwise null.</param>
public sealed record ProfileSample(ImmutableArray<string> Lines, LineMeaning Meaning, ChannelDensities? Densities)
{
    /// <summary>What the last line says the instrument is, when it answers the identify command; otherwise null.</summary>
    public InstrumentIdentity? Identity { get; init; }
}

/// <summary>One thing wrong with a profile.</summary>
/// <param name="File">The file as the user named it.</param>
/// <param name="Line">The line, from 1; 0 when the file as a whole is meant.</param>
/// <param name="Column">The character in the line, from 1; 0 when the file as a whole is meant.</param>
/// <param name="Message">What is wrong and what was expected.</param>
public sealed record ProfileError(string File, int Line, int Column, string Message)
{
    /// <summary>For example <c>mine.json:3:14: …</c>.</summary>
    public override string ToString() =>
        Line > 0 ? FormattableString.Invariant($"{File}:{Line}:{Column}: {Message}") : $"{File}: {Message}";
}

/// <summary>A profile that cannot be used, with everything that is wrong with it, in the order of the file.</summary>
public sealed class ProfileException(ImmutableArray<ProfileError> errors)
    : Exception(string.Join(Environment.NewLine, errors.Select(e => e.ToString())))
{
    /// <summary>All errors; at least one.</summary>
    public ImmutableArray<ProfileError> Errors { get; } = errors;
}

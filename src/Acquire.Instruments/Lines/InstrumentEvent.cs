namespace Acquire.Instruments.Lines;

/// <summary>What one received line turned out to be. Every line gives exactly one event, in order of arrival.</summary>
/// <param name="Meaning">What it was taken for.</param>
public abstract record InstrumentEvent(RawLine Line, LineMeaning Meaning)
{
    /// <summary>What else happened with this line, in words for the user, such as an
    /// unfinished reading that was given up; mostly null.</summary>
    public string? Note { get; init; }

    /// <summary>A whole reading; its lines may be several.</summary>
    public sealed record ReadingTaken(RawLine Line, Reading Reading) : InstrumentEvent(Line, LineMeaning.Reading);

    /// <summary>One channel of a reading that is not complete yet.</summary>
    public sealed record ChannelTaken(RawLine Line, Channel Channel, Density Density) : InstrumentEvent(Line, LineMeaning.Partial);

    /// <summary>One channel beyond the instrument's range, in a reading that is not complete yet. When the last channel has come, the whole
    /// is reported as <see cref="BeyondRange"/>; so one measurement gives one report.</summary>
    public sealed record ChannelBeyondRange(RawLine Line, Channel Channel) : InstrumentEvent(Line, LineMeaning.Partial);

    /// <summary>A density beyond the instrument's range; no reading is made of it.</summary>
    /// <param name="Channels">The channels concerned; empty when the line does not say.</param>
    public sealed record BeyondRange(RawLine Line, ImmutableArray<Channel> Channels) : InstrumentEvent(Line, LineMeaning.OverRange);

    public sealed record InstrumentError(RawLine Line) : InstrumentEvent(Line, LineMeaning.Error);

    /// <summary>A line sent while the instrument is calibrated.</summary>
    public sealed record CalibrationNote(RawLine Line) : InstrumentEvent(Line, LineMeaning.Calibration);

    /// <summary>A header, footer or other line that the profile ignores.</summary>
    public sealed record IgnoredLine(RawLine Line) : InstrumentEvent(Line, LineMeaning.Ignored);

    /// <summary>A line that fits nothing.</summary>
    /// <param name="Reason">Why, in words for the user.</param>
    public sealed record UnmatchedLine(RawLine Line, string Reason) : InstrumentEvent(Line, LineMeaning.Unmatched);
}

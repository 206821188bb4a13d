namespace Acquire.Instruments.Profiles;

/// <summary>Lines in a row, and what the last of them must give.</summary>
/// <param name="Lines">The lines without terminators.</param>
/// <param name="Meaning">What the last line is.</param>
/// <param name="Densities">The reading, when the meaning is a reading; otherwise null.</param>
public sealed record ProfileSample(ImmutableArray<string> Lines, LineMeaning Meaning, ChannelDensities? Densities);

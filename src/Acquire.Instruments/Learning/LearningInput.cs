using Acquire.Instruments.Captures;
using Acquire.Instruments.Links;

namespace Acquire.Instruments.Learning;

/// <summary>What a profile is learned from.</summary>
/// <param name="Capture">The bytes as received, or lines of text as received.</param>
/// <param name="Shown">What the display showed for each measurement in the capture, in order.</param>
/// <param name="Channels">The channel of each shown value.</param>
/// <param name="Name">The name of the profile to make: lower-case letters, digits and hyphens.</param>
public sealed record LearningInput(
    ReadOnlyMemory<byte> Capture, ImmutableArray<ShownReading> Shown, ImmutableArray<Channel> Channels, string Name = "learned")
{
    /// <summary>
    /// The same bytes with the times they came at, so that lines that only a pause ends can be learned; empty where there are no times.
    /// </summary>
    public ImmutableArray<CaptureChunk> Chunks { get; init; } = [];

    /// <summary>How the line was set when the bytes came; null where that is not known, as for a file of bytes.</summary>
    public LinkSettings? Link { get; init; }

    /// <summary>What a profile is learned from, where the bytes came with their times.</summary>
    /// <param name="chunks">The chunks in order; breaks of the link are left out.</param>
    /// <param name="link">How the line was set; null where that is not known.</param>
    /// <param name="shown">What the display showed for each measurement, in order.</param>
    /// <param name="channels">The channel of each shown value.</param>
    /// <param name="name">The name of the profile to make.</param>
    public static LearningInput Timed(
        IEnumerable<CaptureChunk> chunks,
        LinkSettings? link, ImmutableArray<ShownReading> shown, ImmutableArray<Channel> channels, string name)
    {
        ImmutableArray<CaptureChunk> whole = [.. chunks.Where(c => !c.IsBreak)];
        return new LearningInput(whole.SelectMany(c => c.Bytes).ToArray(), shown, channels, name) { Chunks = whole, Link = link };
    }
}

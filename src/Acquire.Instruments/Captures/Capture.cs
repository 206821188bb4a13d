using Acquire.Instruments.Lines;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Captures;

public enum CaptureKind
{
    /// <summary>A capture file: chunks with the times they came at.</summary>
    Timed,

    /// <summary>A plain text file: lines as received, without times.</summary>
    Text,

    /// <summary>Raw bytes, without times.</summary>
    Raw,
}

/// <summary>Bytes that came at once.</summary>
/// <param name="At">When they came; the same moment for all where the file has no times.</param>
/// <param name="Bytes">The bytes; empty where the link broke.</param>
public sealed record CaptureChunk(DateTimeOffset At, ImmutableArray<byte> Bytes)
{
    /// <summary>Whether the link broke here, so that what is unfinished stays so.</summary>
    public bool IsBreak => Bytes.IsEmpty;
}

/// <summary>What an instrument once sent.</summary>
/// <param name="Kind">What it was read from.</param>
/// <param name="Port">The port it came from; null where the file does not say.</param>
/// <param name="Profile">The device profile in use then; null where the file does not say.</param>
/// <param name="Settings">The line settings in force then, the last where they changed, in words; null where the file does not say.</param>
/// <param name="Chunks">The bytes in order. In a text file a chunk is a line without its end.</param>
/// <param name="EndedAt">When the capture was closed; null where the file does not say.</param>
public sealed record Capture(
    CaptureKind Kind, string? Port, string? Profile, string? Settings, ImmutableArray<CaptureChunk> Chunks, DateTimeOffset? EndedAt)
{
    /// <summary>The bytes as an instrument with this framing sends them. Only lines of a text file change: they get the start, the end and
    /// the terminator that the framing wants, and the pause where a pause ends a line.</summary>
    public IEnumerable<CaptureChunk> As(FramingSettings framing) => Kind == CaptureKind.Text
        ? Chunks.Select((line, i) => new CaptureChunk(line.At + (i * (framing.IdleGap ?? TimeSpan.Zero)), Wrap(line, framing)))
        : Chunks;

    private static ImmutableArray<byte> Wrap(CaptureChunk line, FramingSettings framing) =>
        [.. LineEnvelope.Wrap(line.Bytes.AsSpan(), framing)];
}

/// <summary>A capture that cannot be read or written. The message names the file, the line, what was expected and what to do.</summary>
public sealed class CaptureException(string message, Exception? inner = null) : Exception(message, inner);

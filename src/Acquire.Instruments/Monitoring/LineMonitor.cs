using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Links;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Monitoring;

/// <summary>Looks at whatever comes over a link, with or without a profile, and counts it.</summary>
/// <param name="profile">How lines are framed and what they mean; null where that is not known.</param>
/// <param name="time">Stamps the lines.</param>
public sealed class LineMonitor(DeviceProfile? profile, TimeProvider time)
{
    /// <summary>Without a profile any line end or a pause ends a line, and no line means anything.</summary>
    private static readonly DeviceProfile NoProfile = new(
        "none", "", "", new LinkSettings(), new FramingSettings { IdleGap = TimeSpan.FromMilliseconds(500) },
        new NumberFormat(),
        [new LineRule(LineMeaning.Ignored, LineTemplate.Parse("{skip}"), null)],
        null, [], "");

    private readonly Unfinished _unfinished = new();

    /// <summary>Whether lines have a meaning.</summary>
    public bool HasProfile => profile is not null;

    /// <summary>What has come so far.</summary>
    public ByteTally Tally { get; } = new();

    /// <summary>The bytes that have come since the last line ended, the newest of
    /// them; many when the profile expects another line end.</summary>
    public ReadOnlySpan<byte> UnfinishedLine => _unfinished.Bytes;

    /// <summary>Reads a link until it breaks.</summary>
    /// <param name="link">The link; it is not disposed.</param>
    /// <param name="received">Sees each chunk as the system handed it over.</param>
    /// <exception cref="LinkException">The link broke.</exception>
    public async IAsyncEnumerable<InstrumentEvent> ReadAllAsync(
        IByteLink link, Action<ReadOnlyMemory<byte>> received, [EnumeratorCancellation] CancellationToken cancellationToken)
    {
        // Tapped below the framing, so that bytes show which no line end ever turns into a line: those tell of a wrong profile.
        var tapped = new TappedLink(link, chunk =>
        {
            Tally.Add(chunk.Span);
            _unfinished.Add(chunk.Span);
            received(chunk);
        });
        await foreach (var line in InstrumentReader.ReadAllAsync(tapped, profile ?? NoProfile, time, cancellationToken))
        {
            _unfinished.Remove(line.Line.Bytes.AsSpan());
            yield return line;
        }
    }
}

/// <summary>Shows each received chunk to somebody before it is passed on.</summary>
internal sealed class TappedLink(IByteLink inner, Action<ReadOnlyMemory<byte>> received) : PassingLink(inner)
{
    public override async ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken)
    {
        var count = await Inner.ReadAsync(buffer, cancellationToken);
        received(buffer[..count]);
        return count;
    }
}

/// <summary>The newest bytes that belong to no line yet.</summary>
internal sealed class Unfinished
{
    private const int MostBytes = 256;

    private readonly List<byte> _bytes = [];

    public ReadOnlySpan<byte> Bytes => CollectionsMarshal.AsSpan(_bytes);

    public void Add(ReadOnlySpan<byte> chunk)
    {
        _bytes.AddRange(chunk);
        _bytes.RemoveRange(0, Math.Max(0, _bytes.Count - (MostBytes + chunk.Length)));
    }

    /// <summary>Takes out a line that has ended, with what came before it and the rest of its end.</summary>
    public void Remove(ReadOnlySpan<byte> line)
    {
        // Found by its bytes, as framing tells neither where a line began nor how it ended.
        var at = Bytes.IndexOf(line);
        if (at >= 0)
        {
            var end = at + line.Length;
            var rest = Bytes[end..].TrimStart("\r\n\f\x03"u8);
            _bytes.RemoveRange(0, _bytes.Count - rest.Length);
        }
    }
}

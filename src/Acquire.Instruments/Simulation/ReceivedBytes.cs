using System.Threading.Channels;
using Channel = System.Threading.Channels.Channel;

namespace Acquire.Instruments.Simulation;

/// <summary>What a listener sent and nobody has read yet; when it grows too long the oldest is dropped, as in a real instrument.</summary>
internal sealed class ReceivedBytes
{
    private const int MostChunks = 256;

    private readonly Channel<byte[]> _chunks = Channel.CreateBounded<byte[]>(
        new BoundedChannelOptions(MostChunks) { FullMode = BoundedChannelFullMode.DropOldest, SingleWriter = true });

    private ReadOnlyMemory<byte> _ready;

    /// <summary>Adds bytes.</summary>
    public void Add(ReadOnlySpan<byte> bytes) => _ = _chunks.Writer.TryWrite(bytes.ToArray());

    /// <summary>Ends it; what is there can still be read.</summary>
    public void End() => _ = _chunks.Writer.TryComplete();

    /// <summary>Waits for bytes; 0 once it has ended and all is read.</summary>
    public async ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken)
    {
        while (_ready.IsEmpty)
        {
            if (!await _chunks.Reader.WaitToReadAsync(cancellationToken))
            {
                return 0;
            }

            _ready = _chunks.Reader.TryRead(out var chunk) ? chunk : default;
        }

        var count = Math.Min(buffer.Length, _ready.Length);
        _ready[..count].CopyTo(buffer);
        _ready = _ready[count..];
        return count;
    }
}

using Acquire.Instruments.Links;

namespace Acquire.Instruments.Monitoring;

/// <summary>Passes everything through and shows each received chunk to somebody first. Does not own the link.</summary>
internal sealed class TappedLink(IByteLink inner, Action<ReadOnlyMemory<byte>> received) : IByteLink
{
    public string Name => inner.Name;

    public ImmutableArray<string> Notices => inner.Notices;

    public async ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken)
    {
        var count = await inner.ReadAsync(buffer, cancellationToken);
        received(buffer[..count]);
        return count;
    }

    public ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancellationToken) =>
        inner.WriteAsync(bytes, cancellationToken);

    public ValueTask DisposeAsync() => ValueTask.CompletedTask;
}

using Acquire.Instruments.Links;

namespace Acquire.Instruments.Captures;

/// <summary>Gives the chunks of a capture as a link would, each at its time, up to where the link broke or the capture ends.</summary>
/// <param name="chunks">The chunks, at the first that is to come; several links may follow each other on the same ones.</param>
/// <param name="endsAt">The time to which it is silent after the last chunk.</param>
/// <param name="waitUntil">Waits until it is so late in the capture.</param>
internal sealed class ReplayLink(
    IEnumerator<CaptureChunk> chunks, Func<DateTimeOffset> endsAt, Func<DateTimeOffset, CancellationToken, ValueTask> waitUntil) : IByteLink
{
    private ReadOnlyMemory<byte> _rest;

    public string Name => "capture";

    /// <summary>Whether the last chunk has been given, so that no link can follow.</summary>
    public bool IsAtEnd { get; private set; }

    public async ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken)
    {
        if (_rest.IsEmpty)
        {
            cancellationToken.ThrowIfCancellationRequested();
            if (!chunks.MoveNext())
            {
                IsAtEnd = true;
                await waitUntil(endsAt(), cancellationToken);
                throw new LinkException(LinkFault.Gone, "The capture ends here.");
            }

            await waitUntil(chunks.Current.At, cancellationToken);
            if (chunks.Current.IsBreak)
            {
                throw new LinkException(LinkFault.Gone, "The link broke here.");
            }

            _rest = chunks.Current.Bytes.AsMemory();
        }

        var count = Math.Min(buffer.Length, _rest.Length);
        _rest[..count].CopyTo(buffer);
        _rest = _rest[count..];
        return count;
    }

    public ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancellationToken) =>
        throw new LinkException(LinkFault.Broken, "Nothing can be sent to a capture.");

    public ValueTask DisposeAsync() => ValueTask.CompletedTask;
}

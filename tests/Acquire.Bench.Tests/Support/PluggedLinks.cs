using System.Text;
using Acquire.Instruments.Links;

namespace Acquire.Bench.Tests.Support;

/// <summary>Opens one link for each text; a link goes when its text has been read, and the last one stays silent.</summary>
internal sealed class PluggedLinks(params IEnumerable<string> texts) : ILinkOpener
{
    private readonly Queue<string> _texts = new(texts);

    public ValueTask<IByteLink> OpenAsync(LinkAddress address, LinkSettings settings, CancellationToken cancellationToken)
    {
        var text = _texts.Dequeue();
        return new(new Plugged(Encoding.ASCII.GetBytes(text), isLast: _texts.Count == 0));
    }

    private sealed class Plugged(ReadOnlyMemory<byte> bytes, bool isLast) : IByteLink
    {
        private ReadOnlyMemory<byte> _left = bytes;

        public string Name => "plugged";

        public async ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken)
        {
            if (_left.IsEmpty && isLast)
            {
                await Task.Delay(Timeout.InfiniteTimeSpan, TimeProvider.System, cancellationToken);
            }

            if (_left.IsEmpty)
            {
                throw new LinkException(LinkFault.Gone, "plugged went away.");
            }

            var count = Math.Min(_left.Length, Math.Min(buffer.Length, 7));
            _left[..count].CopyTo(buffer);
            _left = _left[count..];
            return count;
        }

        public ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancellationToken) => ValueTask.CompletedTask;

        public ValueTask DisposeAsync() => ValueTask.CompletedTask;
    }
}

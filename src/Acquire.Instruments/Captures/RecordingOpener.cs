using System.Collections.Immutable;
using Acquire.Instruments.Links;

namespace Acquire.Instruments.Captures;

/// <summary>Opens links that write all they receive to a capture before anybody sees it.</summary>
public sealed class RecordingOpener(ILinkOpener opener, CaptureWriter capture) : ILinkOpener
{
    /// <inheritdoc/>
    public async ValueTask<IByteLink> OpenAsync(LinkAddress address, LinkSettings settings, CancellationToken cancellationToken) =>
        new RecordingLink(await opener.OpenAsync(address, settings, cancellationToken), capture);

    private sealed class RecordingLink(IByteLink inner, CaptureWriter capture) : IByteLink
    {
        private bool _broken;

        public string Name => inner.Name;

        public ImmutableArray<string> Notices => inner.Notices;

        public async ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken)
        {
            try
            {
                var count = await inner.ReadAsync(buffer, cancellationToken);
                capture.Write(buffer.Span[..count]);
                return count;
            }
            catch (LinkException) when (!_broken)
            {
                _broken = true;
                capture.Break();
                throw;
            }
        }

        public ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancellationToken) => inner.WriteAsync(bytes, cancellationToken);

        public ValueTask DisposeAsync() => inner.DisposeAsync();
    }
}

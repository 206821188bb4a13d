using Acquire.Instruments.Links;

namespace Acquire.Instruments.Captures;

/// <summary>Opens links that write all they receive to one capture before anybody sees it, and when the
/// line settings change. Dispose to close the capture.</summary>
/// <param name="opener">Opens the links.</param>
/// <param name="begin">Begins the capture, when a link has opened for the first time.</param>
public sealed class RecordingOpener(ILinkOpener opener, Func<CaptureWriter> begin) : ILinkOpener, IDisposable
{
    private CaptureWriter? _capture;
    private LinkSettings? _settings;

    public async ValueTask<IByteLink> OpenAsync(LinkAddress address, LinkSettings settings, CancellationToken cancellationToken)
    {
        var link = await opener.OpenAsync(address, settings, cancellationToken);
        try
        {
            if (_capture is not null && settings != _settings)
            {
                // Learning tries rates one after the other into one capture: who reads it must know which bytes came at which.
                _capture.Settings(LinkWords.Of(settings));
            }

            _settings = settings;
            return new RecordingLink(link, _capture ??= begin());
        }
        catch
        {
            await link.DisposeAsync();
            throw;
        }
    }

    public void Dispose() => _capture?.Dispose();

    private sealed class RecordingLink(IByteLink inner, CaptureWriter capture) : PassingLink(inner)
    {
        private bool _broken;

        public override async ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken)
        {
            try
            {
                var count = await Inner.ReadAsync(buffer, cancellationToken);
                // Written before anybody sees them, so that what made a program fail is in the file.
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
    }
}

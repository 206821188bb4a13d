using Acquire.Instruments.Links;
using Acquire.Instruments.Profiles;
using Microsoft.Extensions.Logging;
using Microsoft.Extensions.Logging.Abstractions;

namespace Acquire.Instruments.Orders;

/// <summary>Opens the link to an instrument and sends what its profile wants sent then. As an opener, and not where lines are read, so that
/// it is sent once for each opening, however many readers the open link then has one after another.</summary>
public sealed class InstrumentOpener(ILinkOpener links, DeviceProfile profile, TimeProvider time, ILogger? logger = null) : ILinkOpener
{
    /// <exception cref="LinkException">It cannot be opened, or broke before all was sent.</exception>
    public async ValueTask<IByteLink> OpenAsync(LinkAddress address, LinkSettings settings, CancellationToken cancellationToken)
    {
        var link = await links.OpenAsync(address, settings, cancellationToken);
        try
        {
            foreach (var command in profile.Commands.AfterOpening)
            {
                await OrderBytes.SendAsync(link, command.Bytes, time, logger ?? NullLogger.Instance, cancellationToken);
                // What comes meanwhile waits at the port for the reader, and is kept as everything.
                await Task.Delay(command.ThenWait, time, cancellationToken);
            }

            return link;
        }
        catch
        {
            await link.DisposeAsync();
            throw;
        }
    }
}

using Microsoft.Extensions.Logging;
using Microsoft.Extensions.Logging.Abstractions;

namespace Acquire.Instruments.Links;

/// <summary>Opens serial ports and links to servers, by their address.</summary>
public sealed class LinkOpener(TimeProvider time, LinkOpenerOptions? options = null, ILogger<LinkOpener>? logger = null) : ILinkOpener
{
    private readonly LinkOpenerOptions _options = options ?? new LinkOpenerOptions();
    private readonly ILogger _logger = logger ?? NullLogger<LinkOpener>.Instance;

    /// <inheritdoc/>
    public async ValueTask<IByteLink> OpenAsync(LinkAddress address, LinkSettings settings, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(settings);
        IByteLink link = address switch
        {
            LinkAddress.Serial serial => await OpenSerialAsync(serial.Path, settings, cancellationToken),
            LinkAddress.Tcp tcp => await TcpLink.ConnectAsync(tcp, settings.MaskTopBit, _options.OpenTimeout, time, cancellationToken),
            LinkAddress.Rfc2217 server => await OpenServerAsync(server, settings, cancellationToken),
            _ => throw new ArgumentOutOfRangeException(nameof(address), address, null),
        };
        LinkLog.Opened(_logger, link.Name);
        foreach (var notice in link.Notices)
        {
            LinkLog.Notice(_logger, notice);
        }

        return link;
    }

    private async Task<TelnetLink> OpenServerAsync(LinkAddress.Rfc2217 server, LinkSettings settings, CancellationToken cancellationToken)
    {
        SettingsCheck.Demand(settings);
        var raw = await TcpLink.ConnectAsync(
            new LinkAddress.Tcp(
                server.Host, server.Port), maskTopBit: false, _options.OpenTimeout, time, cancellationToken, server.ToString());
        return await TelnetOpening.RunAsync(raw, settings, _options.AnswerTimeout, time, cancellationToken);
    }

    private async Task<SerialPortLink> OpenSerialAsync(string name, LinkSettings settings, CancellationToken cancellationToken)
    {
        SettingsCheck.Demand(settings);
        var facts = PortFactsReader.Read(name);
        if (PortDiagnosis.Of(facts) is { } trouble)
        {
            throw trouble;
        }

        var held = PortClaim.Take(facts, _options, time, out var notice);
        SerialPortLink? link = null;
        try
        {
            var line = await SerialOpening.OpenAsync(facts, settings, _options.OpenTimeout, time, cancellationToken);
            line = notice is null ? line : line with { Notices = line.Notices.Add(notice) };
            link = new SerialPortLink(
                name, line, new PortPresence(facts.ResolvedPath, _options.PresenceInterval, time), held, _options, time, _logger);
            if (settings.SettleAfterOpen > TimeSpan.Zero)
            {
                await Task.Delay(settings.SettleAfterOpen, time, cancellationToken);
                link.DiscardReceived();
            }

            return link;
        }
        catch
        {
            if (link is not null)
            {
                await link.DisposeAsync();
            }

            held?.Dispose();
            throw;
        }
    }
}

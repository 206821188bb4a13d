using Microsoft.Extensions.Logging;
using Microsoft.Extensions.Logging.Abstractions;

namespace Acquire.Instruments.Links;

/// <summary>How links are opened, watched and closed.</summary>
public sealed record LinkOpenerOptions
{
    /// <summary>The command that holds the port, as a second opener is told it. Default <c>acquire</c>.</summary>
    public string Command { get; init; } = "acquire";

    /// <summary>The folder of the lock files. Default a private folder of the user in the system's temporary one.</summary>
    public string LockFolder { get; init; } = Path.Combine(Path.GetTempPath(), $"acquire-ports-{Environment.UserName}");

    /// <summary>How often it is looked whether the device is still there. Default 1 s.</summary>
    public TimeSpan PresenceInterval { get; init; } = TimeSpan.FromSeconds(1);

    /// <summary>How long opening or connecting may take. Default 10 s.</summary>
    public TimeSpan OpenTimeout { get; init; } = TimeSpan.FromSeconds(10);

    /// <summary>How long a server may take to agree that its port be set, and again to confirm the settings. Default 3 s.</summary>
    public TimeSpan AnswerTimeout { get; init; } = TimeSpan.FromSeconds(3);

    /// <summary>How long a write may take. Default 5 s.</summary>
    public TimeSpan WriteTimeout { get; init; } = TimeSpan.FromSeconds(5);

    /// <summary>How long closing may take before the port is abandoned. Default 2 s.</summary>
    public TimeSpan CloseDeadline { get; init; } = TimeSpan.FromSeconds(2);
}

/// <summary>Opens serial ports and links to servers, by their address.</summary>
public sealed class LinkOpener(TimeProvider time, LinkOpenerOptions? options = null, ILogger<LinkOpener>? logger = null) : ILinkOpener
{
    private readonly LinkOpenerOptions _options = options ?? new LinkOpenerOptions();
    private readonly ILogger _logger = logger ?? NullLogger<LinkOpener>.Instance;

    public async ValueTask<IByteLink> OpenAsync(LinkAddress address, LinkSettings settings, CancellationToken cancellationToken)
    {
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
            new LinkAddress.Tcp(server.Host, server.Port), maskTopBit: false, _options.OpenTimeout, time, cancellationToken,
            server.ToString());
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

        // Claimed before it is opened: to open a port alone can reset an instrument that another program is reading.
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

/// <summary>What links write to the log.</summary>
internal static partial class LinkLog
{
    [LoggerMessage(1, LogLevel.Warning, "Closing {Port} took longer than {Deadline}; it was abandoned.")]
    public static partial void Abandoned(ILogger logger, string port, TimeSpan deadline);

    [LoggerMessage(2, LogLevel.Debug, "Closing {Port} reported a fault that does not matter any more.")]
    public static partial void CloseFailed(ILogger logger, string port, Exception fault);

    [LoggerMessage(3, LogLevel.Warning, "{Notice}")]
    public static partial void Notice(ILogger logger, string notice);

    [LoggerMessage(4, LogLevel.Information, "Opened {Port}.")]
    public static partial void Opened(ILogger logger, string port);

    [LoggerMessage(5, LogLevel.Warning, "Lost {Port}: {Reason}")]
    public static partial void Lost(ILogger logger, string port, string reason);

    [LoggerMessage(6, LogLevel.Warning, "Attempt {Attempt} to open {Port} again failed: {Reason}")]
    public static partial void StillGone(ILogger logger, string port, int attempt, string reason);

    [LoggerMessage(7, LogLevel.Information, "{Port} is back after {Away}.")]
    public static partial void Back(ILogger logger, string port, TimeSpan away);
}

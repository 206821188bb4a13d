namespace Acquire.Instruments.Links;

/// <summary>Agrees with a server that its serial port be set, and sets it.</summary>
internal static class TelnetOpening
{
    private const byte SevenBits = 0x7F;
    private const byte EightBits = 0xFF;

    /// <summary>Sets the port behind a connection that has just been made.</summary>
    /// <param name="raw">The connection; the link owns it from here on, also when this fails.</param>
    /// <param name="settings">The settings.</param>
    /// <param name="patience">How long the server may take to agree, and again to confirm the settings.</param>
    /// <param name="time">Measures it.</param>
    /// <param name="cancellationToken">Ends it.</param>
    /// <exception cref="LinkException">The server does not let the port be set, or sets it otherwise, or the link broke.</exception>
    public static async Task<TelnetLink> RunAsync(
        IByteLink raw, LinkSettings settings, TimeSpan patience, TimeProvider time, CancellationToken cancellationToken)
    {
        var link = new TelnetLink(raw, settings.MaskTopBit || settings.DataBits == 7 ? SevenBits : EightBits);
        try
        {
            await AgreeAsync(link, patience, time, cancellationToken);
            await SetOrFallBackAsync(link, settings, patience, time, cancellationToken);
            if (settings.SettleAfterOpen > TimeSpan.Zero)
            {
                await SettleAsync(link, settings.SettleAfterOpen, time, cancellationToken);
            }

            return link;
        }
        catch
        {
            await link.DisposeAsync();
            throw;
        }
    }

    private static async Task AgreeAsync(TelnetLink link, TimeSpan patience, TimeProvider time, CancellationToken cancellationToken)
    {
        await link.SendAsync(TelnetOptions.Opening(), cancellationToken);
        await UntilAsync(link, _ => link.ComPort is not null, patience, time, cancellationToken);
        if (link.ComPort is not true)
        {
            throw new LinkException(
                LinkFault.BadSettings,
                $"{link.Name} does not let its serial port be set (RFC 2217). Turn that on at the server, or set rate and framing there "
                + $"and name the port tcp:{link.Name.Split(':', 2)[^1]}.");
        }
    }

    /// <summary>A parity that the server refuses is left out, where the bytes can be received without it.</summary>
    private static async Task SetOrFallBackAsync(
        TelnetLink link, LinkSettings settings, TimeSpan patience, TimeProvider time, CancellationToken cancellationToken)
    {
        var refused = await SetAsync(link, settings, patience, time, cancellationToken);
        if (refused.Any(r => r.IsParity) && settings.Parity != LineParity.None)
        {
            var (without, notice) = ParityFallback.For(link.Name, settings);
            refused = await SetAsync(link, without, patience, time, cancellationToken);
            link.Notices = link.Notices.Add(notice);
        }

        if (refused is [var essential, ..])
        {
            throw new LinkException(
                LinkFault.BadSettings, $"{link.Name} cannot set {essential.What}. Choose other settings at the instrument and here.");
        }
    }

    /// <summary>Asks for all settings; gives those refused without which nothing can be read, and leaves a notice of the others.</summary>
    private static async Task<IReadOnlyList<PortRequest>> SetAsync(
        TelnetLink link, LinkSettings settings, TimeSpan patience, TimeProvider time, CancellationToken cancellationToken)
    {
        var wanted = PortRequest.Of(settings);
        List<PortRequest> open = [.. wanted];
        List<PortRequest> refused = [];
        foreach (var request in wanted)
        {
            await link.SendAsync(request.Encode(), cancellationToken);
        }

        await UntilAsync(
            link,
            said =>
            {
                // Answers come in the order of the requests; two requests may share a command.
                if (said is not null && open.Find(r => r.IsAnsweredBy(said)) is { } request)
                {
                    _ = open.Remove(request);
                    if (!request.IsDoneBy(said))
                    {
                        refused.Add(request);
                    }
                }

                return open.Count == 0;
            },
            patience,
            time,
            cancellationToken);
        link.Notices =
        [
            .. refused.Where(r => !r.IsEssential).Select(r => $"{link.Name} did not set {r.What}."),
            .. open.Select(r => $"{link.Name} did not confirm {r.What}."),
        ];
        return [.. refused.Where(r => r.IsEssential)];
    }

    private static async Task SettleAsync(TelnetLink link, TimeSpan settle, TimeProvider time, CancellationToken cancellationToken)
    {
        await UntilAsync(link, _ => false, settle, time, cancellationToken);
        link.DiscardReceived();
    }

    /// <summary>Receives until a condition holds or the time is over. It is looked at first, and after each message.</summary>
    private static async Task UntilAsync(
        TelnetLink link,
        Func<TelnetMessage.Parameters?, bool> isMet, TimeSpan patience, TimeProvider time, CancellationToken cancellationToken)
    {
        using var late = new CancellationTokenSource(patience, time);
        using var either = CancellationTokenSource.CreateLinkedTokenSource(late.Token, cancellationToken);
        try
        {
            while (!isMet(null))
            {
                foreach (var said in await link.ReceiveAsync(either.Token))
                {
                    _ = isMet(said);
                }
            }
        }
        catch (OperationCanceledException) when (late.IsCancellationRequested && !cancellationToken.IsCancellationRequested)
        {
            // What has not been said by now is seen by the caller.
        }
    }
}

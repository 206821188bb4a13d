using System.Buffers.Binary;

namespace Acquire.Instruments.Links;

/// <summary>Agrees with a server that its serial port be set, and sets it.</summary>
internal static class TelnetOpening
{
    /// <summary>Sets the port behind a connection that has just been made.</summary>
    /// <param name="raw">The connection; the link owns it from here on, also when this fails.</param>
    /// <param name="patience">How long the server may take to agree, and again to confirm the settings.</param>
    /// <param name="time">Measures it.</param>
    /// <exception cref="LinkException">The server does not let the port be set, or sets it otherwise, or the link broke.</exception>
    public static async Task<TelnetLink> RunAsync(
        IByteLink raw, LinkSettings settings, TimeSpan patience, TimeProvider time, CancellationToken cancellationToken)
    {
        var link = new TelnetLink(raw, settings.Mask);
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
            // To do without parity changes data or stop bits too, so everything is asked for again.
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
        // All at once, as every round trip to a server far away would cost its time.
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
                    // A server answers with what it has set, which may be another value than it was asked for (RFC 2217).
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
        // What came while the line settled is no reading.
        link.DiscardReceived();
    }

    /// <summary>Receives until a condition holds or the time is over. It is looked at first, and after each message.</summary>
    private static async Task UntilAsync(
        TelnetLink link, Func<TelnetMessage.Parameters?, bool> isMet, TimeSpan patience, TimeProvider time,
        CancellationToken cancellationToken)
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

/// <summary>One setting that a server is asked to make on its serial port, with numbers from RFC 2217, section 3.</summary>
/// <param name="Command">The number of the command; the answer has 100 more.</param>
/// <param name="What">The setting in words.</param>
internal sealed record PortRequest(byte Command, ImmutableArray<byte> Value, string What)
{
    /// <summary>What the number of an answer is above that of the command.</summary>
    public const byte ServerOffset = 100;

    private const byte SetBaud = 1;
    private const byte SetDataSize = 2;
    private const byte SetParity = 3;
    private const byte SetStopSize = 4;
    private const byte SetControl = 5;

    /// <summary>Whether nothing can be read when it is not done: rate and framing. Flow control and control lines may be missing.</summary>
    public bool IsEssential => Command != SetControl;

    public bool IsParity => Command == SetParity;

    public byte[] Encode() => TelnetEncoder.Parameters(TelnetCode.ComPort, [Command, .. Value]);

    public bool IsAnsweredBy(TelnetMessage.Parameters said) =>
        said.Code == TelnetCode.ComPort && said.Bytes.Length == Value.Length + 1 && said.Bytes[0] == Command + ServerOffset;

    public bool IsDoneBy(TelnetMessage.Parameters answer) => answer.Bytes.AsSpan()[1..].SequenceEqual(Value.AsSpan());

    /// <summary>The requests that make these settings. A control line that is to be left alone is not mentioned.</summary>
    public static ImmutableArray<PortRequest> Of(LinkSettings settings)
    {
        var baud = new byte[4];
        BinaryPrimitives.WriteInt32BigEndian(baud, settings.Baud);
        return
        [
            new PortRequest(SetBaud, [.. baud], FormattableString.Invariant($"{settings.Baud} baud")),
            One(SetDataSize, settings.DataBits, FormattableString.Invariant($"{settings.DataBits} data bits")),
            One(SetParity, Number(settings.Parity), $"{settings.Parity.ToString().ToLowerInvariant()} parity"),
            One(SetStopSize, settings.StopBits, FormattableString.Invariant(
                $"{settings.StopBits} stop {(settings.StopBits == 1 ? "bit" : "bits")}")),
            One(SetControl, Number(settings.Handshake), "flow control"),
            .. Control(settings.Dtr, 8, "DTR"),
            .. settings.Handshake == Handshake.RtsCts ? [] : Control(settings.Rts, 11, "RTS"),
        ];
    }

    private static PortRequest One(byte command, int value, string what) => new(command, [(byte)value], what);

    private static ImmutableArray<PortRequest> Control(ControlLine line, int on, string name) => line switch
    {
        ControlLine.On => [One(SetControl, on, $"{name} on")],
        ControlLine.Off => [One(SetControl, on + 1, $"{name} off")],
        _ => [],
    };

    private static int Number(LineParity parity) => parity switch
    {
        LineParity.None => 1,
        LineParity.Odd => 2,
        LineParity.Even => 3,
        LineParity.Mark => 4,
        LineParity.Space => 5,
        _ => throw new ArgumentOutOfRangeException(nameof(parity), parity, null),
    };

    private static int Number(Handshake handshake) => handshake switch
    {
        Handshake.None => 1,
        Handshake.XonXoff => 2,
        Handshake.RtsCts => 3,
        _ => throw new ArgumentOutOfRangeException(nameof(handshake), handshake, null),
    };
}

using System.Buffers.Binary;

namespace Acquire.Instruments.Links;

/// <summary>One setting that a server is asked to make on its serial port, with numbers from RFC 2217, section 3.</summary>
/// <param name="Command">The number of the command; the answer has 100 more.</param>
/// <param name="Value">The value.</param>
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

    /// <summary>Whether it sets the parity.</summary>
    public bool IsParity => Command == SetParity;

    /// <summary>The bytes to send.</summary>
    public byte[] Encode() => TelnetEncoder.Parameters(TelnetCode.ComPort, [Command, .. Value]);

    /// <summary>Whether a message answers this request.</summary>
    public bool IsAnsweredBy(TelnetMessage.Parameters said) =>
        said.Code == TelnetCode.ComPort && said.Bytes.Length == Value.Length + 1 && said.Bytes[0] == Command + ServerOffset;

    /// <summary>Whether an answer says that it was done.</summary>
    public bool IsDoneBy(TelnetMessage.Parameters answer) => answer.Bytes.AsSpan()[1..].SequenceEqual(Value.AsSpan());

    /// <summary>The requests that make these settings. A control line that is to be left alone is not mentioned.</summary>
    public static ImmutableArray<PortRequest> Of(LinkSettings settings)
    {
        var baud = new byte[4];
        BinaryPrimitives.WriteInt32BigEndian(baud, settings.Baud);
        return
        [
            new PortRequest(SetBaud, [.. baud], string.Create(CultureInfo.InvariantCulture, $"{settings.Baud} baud")),
            One(SetDataSize, settings.DataBits, string.Create(CultureInfo.InvariantCulture, $"{settings.DataBits} data bits")),
            One(SetParity, Number(settings.Parity), $"{settings.Parity.ToString().ToLowerInvariant()} parity"),
            One(SetStopSize, settings.StopBits, string.Create(
                CultureInfo.InvariantCulture, $"{settings.StopBits} stop {(settings.StopBits == 1 ? "bit" : "bits")}")),
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

using System.Numerics;
using System.Text;
using System.Threading.Channels;
using Acquire.Instruments.Links;
using Acquire.Instruments.Tests.Links;
using Channel = System.Threading.Channels.Channel;

namespace Acquire.Instruments.Tests.Learning.Live;

/// <summary>
/// An instrument that sends its next reading when its key is pressed, over a line with certain settings. A port that is set otherwise
/// receives garbled bytes, or the parity in the top bit.
/// </summary>
internal sealed class KeyedInstrument(ImpatientClock clock, LinkSettings line, params IEnumerable<string[]> readings) : ILinkOpener
{
    private readonly ImpatientClock _clock = clock;
    private readonly Queue<string[]> _readings = new(readings);
    private ChannelWriter<(TimeSpan After, byte[] Bytes)>? _open;

    public List<LinkSettings> Opened { get; } = [];

    public int StillOpen { get; private set; }

    /// <summary>The pause before each piece of a reading but the first.</summary>
    public TimeSpan Pause { get; init; } = TimeSpan.FromMilliseconds(8);

    /// <summary>
    /// Sends the next reading, in its pieces; an empty one is a key that does nothing, none at all a plug that was pulled.
    /// </summary>
    public void Press()
    {
        if (!_readings.TryDequeue(out var pieces))
        {
            _open!.Complete();
            return;
        }

        foreach (var (i, piece) in pieces.Index())
        {
            Assert.True(_open!.TryWrite((i == 0 ? TimeSpan.Zero : Pause, Received(Encoding.Latin1.GetBytes(piece), Opened[^1]))));
        }
    }

    public ValueTask<IByteLink> OpenAsync(LinkAddress address, LinkSettings settings, CancellationToken cancellationToken)
    {
        Assert.Equal(0, StillOpen);
        Opened.Add(settings);
        StillOpen++;
        var chunks =
            Channel.CreateUnbounded<(TimeSpan After, byte[] Bytes)>(new UnboundedChannelOptions { AllowSynchronousContinuations = true });
        _open = chunks.Writer;
        return new(new Link(this, chunks.Reader));
    }

    private byte[] Received(byte[] sent, LinkSettings port) => port.Baud != line.Baud
        ? [.. sent.Select((b, i) => (byte)((b * 73) + (i * 151) + port.Baud + 0x80))]
        : (line, port) switch
        {
            ({ Parity: LineParity.None }, { Parity: LineParity.None }) => sent,
            ({ DataBits: 7 }, { DataBits: 8, Parity: LineParity.None }) => [.. sent.Select(b => (byte)(b | (ParityBit(b) << 7)))],
            _ when (line.DataBits, line.Parity) == (port.DataBits, port.Parity) => sent,

            // The parity bit stands where a stop bit is expected, so a low one spoils its byte.
            _ => [.. sent.Select(b => ParityBit(b) == 1 ? b : (byte)0xFF)],
        };

    private int ParityBit(byte b) => (BitOperations.PopCount(b) & 1) ^ (line.Parity == LineParity.Odd ? 1 : 0);

    private sealed class Link(KeyedInstrument owner, ChannelReader<(TimeSpan After, byte[] Bytes)> chunks) : IByteLink
    {
        private bool _disposed;

        public string Name => "instrument";

        public async ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken)
        {
            try
            {
                var (after, bytes) = await chunks.ReadAsync(cancellationToken);
                owner._clock.Pass(after);
                bytes.CopyTo(buffer);
                return bytes.Length;
            }
            catch (ChannelClosedException)
            {
                throw new LinkException(LinkFault.Gone, "The instrument went away.");
            }
        }

        public ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancellationToken) => ValueTask.CompletedTask;

        public ValueTask DisposeAsync()
        {
            owner.StillOpen -= _disposed ? 0 : 1;
            _disposed = true;
            return ValueTask.CompletedTask;
        }
    }
}

using System.Threading.Channels;
using Acquire.Instruments.Links;
using Channel = System.Threading.Channels.Channel;

namespace Acquire.Instruments.Tests.Links.Telnet;

/// <summary>
/// The server's end of a connection, written from RFC 2217 by itself: it answers each whole message at the end of what was sent, a
/// byte at a time, so that every answer is cut everywhere.
/// </summary>
internal sealed class ScriptedServer : IByteLink
{
    private readonly Channel<byte> _toClient = Channel.CreateUnbounded<byte>();
    private readonly List<byte> _line = [];

    public string Name => "rfc2217:darkroom:2217";

    /// <summary>Everything the client has sent.</summary>
    public List<byte> Sent { get; } = [];

    /// <summary>The settings by the number of their command, as the client asked for them.</summary>
    public List<string> Asked { get; } = [];

    /// <summary>What the server makes of a request; null for no answer.</summary>
    public Func<byte, byte[], byte[]?> Sets { get; init; } = (_, value) => value;

    /// <summary>What the server says to the offer to set the port: DO (253), DONT (254), or nothing.</summary>
    public byte? SaysToComPort { get; init; } = 253;

    public void Send(params IEnumerable<byte> bytes) => bytes.ToList().ForEach(b => _toClient.Writer.TryWrite(b));

    public async ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken)
    {
        var b = await _toClient.Reader.ReadAsync(cancellationToken);
        buffer.Span[0] = b;
        return 1;
    }

    public ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancellationToken)
    {
        Sent.AddRange(bytes.Span);
        foreach (var b in bytes.Span)
        {
            _line.Add(b);
            Take();
        }

        return ValueTask.CompletedTask;
    }

    public ValueTask DisposeAsync() => ValueTask.CompletedTask;

    private void Take()
    {
        switch (_line)
        {
            case [255, 251, 44]:
                if (SaysToComPort is { } verb)
                {
                    Send(255, verb, 44);
                }

                _line.Clear();
                break;
            case [255, >= 251 and < 255 and var said, var option]:
                Send(255, (byte)(said == 251 ? 253 : 251), option);
                _line.Clear();
                break;
            case [255, 250, 44, var command, .., 255, 240]:
                var value = _line[4..^2].ToArray();
                Asked.Add($"{command}={Convert.ToHexString(value)}");
                if (Sets(command, value) is { } set)
                {
                    Send([255, 250, 44, (byte)(command + 100), .. set, 255, 240]);
                }

                _line.Clear();
                break;
            case [not 255, ..]:
                _line.Clear();
                break;
            default:
                break;
        }
    }
}

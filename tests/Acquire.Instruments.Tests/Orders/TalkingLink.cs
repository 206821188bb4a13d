using System.Collections.Concurrent;
using System.Text;
using System.Threading.Channels;
using Acquire.Instruments.Links;
using Channel = System.Threading.Channels.Channel;

namespace Acquire.Instruments.Tests.Orders;

/// <summary>A link whose other end the test speaks for: it keeps what was written, and decides what becomes of it.</summary>
internal sealed class TalkingLink : IByteLink
{
    private readonly Channel<byte[]> _chunks = Channel.CreateUnbounded<byte[]>();
    private readonly ConcurrentQueue<string> _written = new();

    public string Name => "talking";

    public string Written => string.Concat(_written);

    public bool IsDisposed { get; private set; }

    /// <summary>What becomes of a write; a fault thrown here breaks the link.</summary>
    public Func<string, CancellationToken, Task> Takes { get; set; } = (_, _) => Task.CompletedTask;

    public void Send(string latin1) => _chunks.Writer.TryWrite(Encoding.Latin1.GetBytes(latin1));

    public void Break() => _chunks.Writer.TryComplete(new LinkException(LinkFault.Gone, "talking went away."));

    public async ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken)
    {
        try
        {
            var chunk = await _chunks.Reader.ReadAsync(cancellationToken);
            chunk.CopyTo(buffer);
            return chunk.Length;
        }
        catch (ChannelClosedException e) when (e.InnerException is LinkException fault)
        {
            throw fault;
        }
    }

    public async ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancellationToken)
    {
        var text = Encoding.Latin1.GetString(bytes.Span);
        await Takes(text, cancellationToken);
        _written.Enqueue(text);
    }

    public ValueTask DisposeAsync()
    {
        IsDisposed = true;
        return ValueTask.CompletedTask;
    }
}

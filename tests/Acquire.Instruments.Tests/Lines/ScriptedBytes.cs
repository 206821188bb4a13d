using System.Threading.Channels;
using Acquire.Instruments.Links;
using Channel = System.Threading.Channels.Channel;

namespace Acquire.Instruments.Tests.Lines;

/// <summary>A link whose bytes and end the test decides; it fails the test when two reads are under way at once.</summary>
internal sealed class ScriptedBytes : IByteLink
{
    private readonly Channel<byte[]> _chunks = Channel.CreateUnbounded<byte[]>();
    private int _reads;
    private int _started;

    public string Name => "scripted";

    /// <summary>How many reads are under way.</summary>
    public int Reads => Volatile.Read(ref _reads);

    /// <summary>How many reads were ever begun.</summary>
    public int Started => Volatile.Read(ref _started);

    public void Send(string latin1) => _chunks.Writer.TryWrite(System.Text.Encoding.Latin1.GetBytes(latin1));

    public void Break() => _chunks.Writer.TryComplete(new LinkException(LinkFault.Gone, "scripted: the port went away"));

    public async ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken)
    {
        Assert.Equal(1, Interlocked.Increment(ref _reads));
        Interlocked.Increment(ref _started);
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
        finally
        {
            Interlocked.Decrement(ref _reads);
        }
    }

    public ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancellationToken) => ValueTask.CompletedTask;

    public ValueTask DisposeAsync() => ValueTask.CompletedTask;
}

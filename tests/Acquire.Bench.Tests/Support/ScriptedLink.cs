using System.Text;
using System.Threading.Channels;
using Acquire.Instruments.Links;
using Channel = System.Threading.Channels.Channel;

namespace Acquire.Bench.Tests.Support;

/// <summary>A link whose bytes the test writes.</summary>
internal sealed class ScriptedLink : IByteLink, ILinkOpener
{
    private readonly Channel<byte[]> _chunks = Channel.CreateUnbounded<byte[]>();
    private volatile bool _isAwaited;

    public string Name => "scripted";

    /// <summary>A read is under way for which nothing has come.</summary>
    public bool IsAwaited => _isAwaited && !_chunks.Reader.TryPeek(out _);

    /// <summary>Called when a read begins.</summary>
    public Action? Awaited { get; set; }

    public bool IsDisposed { get; private set; }

    public LinkSettings? OpenedWith { get; private set; }

    public string Written { get; private set; } = "";

    /// <summary>What becomes of a write; a fault thrown here breaks the link.</summary>
    public Action<string> Takes { get; set; } = _ => { };

    public void Send(string text) => Assert.True(_chunks.Writer.TryWrite(Encoding.Latin1.GetBytes(text)));

    public void Break() => _chunks.Writer.Complete();

    public ValueTask<IByteLink> OpenAsync(LinkAddress address, LinkSettings settings, CancellationToken cancellationToken)
    {
        OpenedWith = settings;
        return ValueTask.FromResult<IByteLink>(this);
    }

    public async ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken)
    {
        Awaited?.Invoke();
        _isAwaited = true;
        var came = await _chunks.Reader.WaitToReadAsync(cancellationToken);
        _isAwaited = false;
        if (!came || !_chunks.Reader.TryRead(out var chunk))
        {
            throw new LinkException(LinkFault.Gone, "The scripted port went away.");
        }

        chunk.CopyTo(buffer);
        return chunk.Length;
    }

    public ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancellationToken)
    {
        var text = Encoding.Latin1.GetString(bytes.Span);
        Takes(text);
        Written += text;
        return ValueTask.CompletedTask;
    }

    public ValueTask DisposeAsync()
    {
        IsDisposed = true;
        return ValueTask.CompletedTask;
    }
}

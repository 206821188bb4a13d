using System.Text;
using Acquire.Instruments.Links;

namespace Acquire.Instruments.Tests.Links;

/// <summary>Opens one scripted link after the other; a fault in the script is what opening gives.</summary>
internal sealed class ScriptedOpener(params IEnumerable<object> script) : ILinkOpener
{
    private readonly Queue<object> _script = new(script);

    public List<string> Opened { get; } = [];

    public int Attempts { get; private set; }

    public int StillOpen { get; private set; }

    public ValueTask<IByteLink> OpenAsync(LinkAddress address, LinkSettings settings, CancellationToken cancellationToken)
    {
        cancellationToken.ThrowIfCancellationRequested();
        Attempts++;
        Opened.Add(address.ToString()!);
        var next = _script.Dequeue();
        if (next is Exception fault)
        {
            throw fault;
        }

        StillOpen++;
        return new(new Link(this, (string[])next, address.ToString()!));
    }

    private sealed class Link(ScriptedOpener opener, IEnumerable<string> chunks, string name) : IByteLink
    {
        private readonly Queue<string> _chunks = new(chunks);
        private bool _disposed;

        public string Name => name;

        public ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken)
        {
            cancellationToken.ThrowIfCancellationRequested();
            return _chunks.TryDequeue(out var chunk)
                ? new(Encoding.Latin1.GetBytes(chunk, buffer.Span))
                : throw new LinkException(LinkFault.Gone, $"{name} went away.");
        }

        public ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancellationToken) => ValueTask.CompletedTask;

        public ValueTask DisposeAsync()
        {
            opener.StillOpen -= _disposed ? 0 : 1;
            _disposed = true;
            return ValueTask.CompletedTask;
        }
    }
}

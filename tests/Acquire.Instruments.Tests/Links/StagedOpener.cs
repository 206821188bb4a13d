using System.Text;
using System.Threading.Channels;
using Acquire.Instruments.Links;
using Channel = System.Threading.Channels.Channel;

namespace Acquire.Instruments.Tests.Links;

/// <summary>Opens links that a test acts on while they are open; a port that is away cannot be opened.</summary>
internal sealed class StagedOpener : ILinkOpener
{
    private readonly List<Link> _opened = [];

    public bool IsThere { get; set; } = true;

    public int Opened => _opened.Count;

    public int Attempts { get; private set; }

    public bool IsOpen => _opened is [.., { IsDisposed: false }];

    public ValueTask<IByteLink> OpenAsync(LinkAddress address, LinkSettings settings, CancellationToken cancellationToken)
    {
        cancellationToken.ThrowIfCancellationRequested();
        Attempts++;
        if (!IsThere)
        {
            throw new LinkException(LinkFault.NotFound, "There is no port.");
        }

        _opened.Add(new Link());
        return new(_opened[^1]);
    }

    public void Send(string text) => _opened[^1].Send(text);

    /// <summary>The port goes away, behind what was sent.</summary>
    public void Unplug()
    {
        IsThere = false;
        _opened[^1].Break();
    }

    private sealed class Link : IByteLink
    {
        private readonly Channel<byte> _bytes = Channel.CreateUnbounded<byte>();
        private bool _broken;

        public string Name => "staged";

        public bool IsDisposed { get; private set; }

        public LinkException? Fault => _broken ? Gone : null;

        private static LinkException Gone => new(LinkFault.Gone, "staged went away.");

        public void Send(string text)
        {
            foreach (var b in Encoding.Latin1.GetBytes(text))
            {
                _ = _bytes.Writer.TryWrite(b);
            }
        }

        public void Break()
        {
            _broken = true;
            _ = _bytes.Writer.TryComplete();
        }

        public async ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken)
        {
            if (!await _bytes.Reader.WaitToReadAsync(cancellationToken))
            {
                throw Gone;
            }

            var count = 0;
            while (count < buffer.Length && _bytes.Reader.TryRead(out var b))
            {
                buffer.Span[count++] = b;
            }

            return count;
        }

        public ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancellationToken) => ValueTask.CompletedTask;

        public ValueTask DisposeAsync()
        {
            IsDisposed = true;
            return ValueTask.CompletedTask;
        }
    }
}

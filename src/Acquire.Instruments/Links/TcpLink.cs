using System.Net.Sockets;

namespace Acquire.Instruments.Links;

/// <summary>A link to a serial-over-network server that passes raw bytes.</summary>
public sealed class TcpLink : IByteLink
{
    private const byte SevenBits = 0x7F;

    private readonly Socket _socket;
    private readonly bool _maskTopBit;
    private readonly BreakOnce _fault = new();

    private TcpLink(string name, Socket socket, bool maskTopBit) => (Name, _socket, _maskTopBit) = (name, socket, maskTopBit);

    public string Name { get; }

    public LinkException? Fault => _fault.Fault ?? (IsClosed() ? Gone(null) : null);

    /// <param name="address">The server.</param>
    /// <param name="maskTopBit">Whether the top bit of every byte is cleared.</param>
    /// <param name="timeout">How long connecting may take.</param>
    /// <param name="time">Measures it.</param>
    /// <param name="name">What the user calls it; null for the address.</param>
    /// <exception cref="LinkException">The host is not there, refuses, or does not answer in time.</exception>
    public static async Task<TcpLink> ConnectAsync(
        LinkAddress.Tcp address, bool maskTopBit, TimeSpan timeout, TimeProvider time, CancellationToken cancellationToken,
        string? name = null)
    {
        using var late = new CancellationTokenSource(timeout, time);
        using var either = CancellationTokenSource.CreateLinkedTokenSource(late.Token, cancellationToken);
        var socket = new Socket(SocketType.Stream, ProtocolType.Tcp) { NoDelay = true };
        try
        {
            // Keep-alive finds a server that vanished without a word, after the system's usual time.
            socket.SetSocketOption(SocketOptionLevel.Socket, SocketOptionName.KeepAlive, optionValue: true);
            await socket.ConnectAsync(address.Host, address.Port, either.Token);
            return new TcpLink(name ?? address.ToString(), socket, maskTopBit);
        }
        catch (Exception e) when (e is SocketException or OperationCanceledException)
        {
            socket.Dispose();
            cancellationToken.ThrowIfCancellationRequested();
            throw Explain(name ?? address.ToString(), address.Host, timeout, e);
        }
    }

    public async ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken)
    {
        ArgumentOutOfRangeException.ThrowIfZero(buffer.Length);
        _fault.ThrowIfBroken();
        int count;
        try
        {
            count = await _socket.ReceiveAsync(buffer, cancellationToken);
        }
        catch (Exception e) when (e is SocketException or ObjectDisposedException)
        {
            throw _fault.Break(Gone(e));
        }

        if (count == 0)
        {
            // No bytes is how a socket says that the other end has closed.
            throw _fault.Break(Gone(null));
        }

        if (_maskTopBit)
        {
            foreach (ref var b in buffer.Span[..count])
            {
                b &= SevenBits;
            }
        }

        return count;
    }

    public async ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancellationToken)
    {
        _fault.ThrowIfBroken();
        try
        {
            while (!bytes.IsEmpty)
            {
                // A socket may take fewer bytes than it is given.
                bytes = bytes[await _socket.SendAsync(bytes, cancellationToken)..];
            }
        }
        catch (OperationCanceledException)
        {
            _ = _fault.Break(new LinkException(LinkFault.Broken, $"Writing to {Name} was cancelled half-way; connect anew."));
            throw;
        }
        catch (Exception e) when (e is SocketException or ObjectDisposedException)
        {
            throw _fault.Break(Gone(e));
        }
    }

    public ValueTask DisposeAsync()
    {
        _ = _fault.Break(new LinkException(LinkFault.Broken, $"{Name} was closed by this program."));
        _socket.Dispose();
        return ValueTask.CompletedTask;
    }

    /// <summary>A socket that is ready to be read and has no bytes was closed by the other end.</summary>
    private bool IsClosed()
    {
        try
        {
            return _socket.Poll(TimeSpan.Zero, SelectMode.SelectRead) && _socket.Available == 0;
        }
        catch (Exception e) when (e is SocketException or ObjectDisposedException)
        {
            return true;
        }
    }

    private LinkException Gone(Exception? inner) =>
        new(LinkFault.Gone, $"{Name} closed the connection, or the network failed. Check the server and the cable.", inner);

    private static LinkException Explain(string name, string host, TimeSpan timeout, Exception e) => e switch
    {
        SocketException { SocketErrorCode: SocketError.ConnectionRefused } => new LinkException(
            LinkFault.NotFound, $"Nothing listens at {name}. Check the port number and that the server runs.", e),
        SocketException { SocketErrorCode: SocketError.HostNotFound or SocketError.NoData or SocketError.TryAgain } => new LinkException(
            LinkFault.NotFound, $"There is no host '{host}'. Check the name.", e),
        SocketException { SocketErrorCode: SocketError.AccessDenied } => new LinkException(
            LinkFault.Denied, $"This computer does not let you connect to {name}.", e),
        OperationCanceledException => new LinkException(
            LinkFault.NotFound, $"{name} does not answer within {timeout.TotalSeconds:0} s. Check the network and the address.", e),
        _ => new LinkException(LinkFault.NotFound, $"{name} cannot be reached: {e.Message}", e),
    };
}

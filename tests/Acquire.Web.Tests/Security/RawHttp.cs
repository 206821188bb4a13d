using System.Net.Sockets;
using System.Text;

namespace Acquire.Web.Tests.Security;

/// <summary>A connection that says exactly what a test says, as no well-behaved client would.</summary>
internal sealed class RawHttp : IDisposable
{
    private readonly Socket _socket;

    private RawHttp(Socket socket) => _socket = socket;

    public static async Task<RawHttp> ConnectAsync(Uri address, CancellationToken cancellationToken)
    {
        var socket = new Socket(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp) { NoDelay = true };
        await socket.ConnectAsync(address.Host, address.Port, cancellationToken);
        return new RawHttp(socket);
    }

    /// <summary>Connects to a socket in the file system.</summary>
    public static async Task<RawHttp> ConnectAsync(string path, CancellationToken cancellationToken)
    {
        var socket = new Socket(AddressFamily.Unix, SocketType.Stream, ProtocolType.Unspecified);
        await socket.ConnectAsync(new UnixDomainSocketEndPoint(path), cancellationToken);
        return new RawHttp(socket);
    }

    /// <summary>Sends and reads until the service closes the connection.</summary>
    public static async Task<string> AskAsync(Uri address, string request, CancellationToken cancellationToken)
    {
        using var raw = await ConnectAsync(address, cancellationToken);
        await raw.SendAsync(request, cancellationToken);
        return await raw.RestAsync(cancellationToken);
    }

    public async Task SendAsync(string text, CancellationToken cancellationToken) =>
        _ = await _socket.SendAsync(Encoding.Latin1.GetBytes(text), cancellationToken);

    public async Task<string> RestAsync(CancellationToken cancellationToken)
    {
        var (all, buffer) = (new StringBuilder(), new byte[4096]);
        try
        {
            while (await _socket.ReceiveAsync(buffer, cancellationToken) is var count and > 0)
            {
                all.Append(Encoding.Latin1.GetString(buffer, 0, count));
            }
        }
        catch (SocketException e) when (e.SocketErrorCode == SocketError.ConnectionReset)
        {
            // Cut off, with what was unread on its way.
        }

        return all.ToString();
    }

    public void Dispose() => _socket.Dispose();
}

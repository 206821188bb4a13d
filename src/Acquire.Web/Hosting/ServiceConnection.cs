using System.Net.Http.Headers;
using System.Net.Sockets;

namespace Acquire.Web.Hosting;

/// <summary>The way to a running service: through the socket in its data folder where there is one, else over loopback.</summary>
public static class ServiceConnection
{
    /// <summary>A client that carries the service's token and knows nobody else: no proxy, no redirects, no cookies.</summary>
    public static HttpClient Open(ServiceFile service)
    {
        var handler = new SocketsHttpHandler { UseProxy = false, AllowAutoRedirect = false, UseCookies = false };
        if (service.Socket is { } path)
        {
            handler.ConnectCallback = (_, cancellationToken) => ConnectAsync(path, cancellationToken);
        }

        // Through the socket nothing is looked up: the name only has to be one that the service goes by.
        var client = new HttpClient(handler) { BaseAddress = new Uri(service.Socket is null ? service.Url : "http://localhost") };
        client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", service.Token);
        return client;
    }

    private static async ValueTask<Stream> ConnectAsync(string path, CancellationToken cancellationToken)
    {
        var socket = new Socket(AddressFamily.Unix, SocketType.Stream, ProtocolType.Unspecified);
        try
        {
            await socket.ConnectAsync(new UnixDomainSocketEndPoint(path), cancellationToken);
            return new NetworkStream(socket, ownsSocket: true);
        }
        catch
        {
            socket.Dispose();
            throw;
        }
    }
}

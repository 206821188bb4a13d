using System.Net;
using System.Net.Sockets;
using Acquire.Instruments.Links;

namespace Acquire.Instruments.Simulation;

/// <summary>A TCP port on loopback that serves one listener after the other, as a serial-over-network server does.</summary>
public sealed class SimulatedTcpPort : ISimulatedPort
{
    private readonly TcpListener _server;
    private readonly ListenerGate _listener = new();
    private readonly ReceivedBytes _received = new();
    private readonly CancellationTokenSource _closing = new();
    private readonly Task _serving;
    private volatile Socket? _client;
    private int _disposed;

    private SimulatedTcpPort(TcpListener server)
    {
        _server = server;
        Address = new LinkAddress.Tcp(IPAddress.Loopback.ToString(), ((IPEndPoint)server.LocalEndpoint).Port);
        _serving = ServeAsync(_closing.Token);
    }

    public LinkAddress Address { get; }

    public int Arrivals => _listener.Arrivals;

    /// <summary>Opens a TCP port, 0 … 65535; 0 lets the system choose a free one.</summary>
    /// <exception cref="LinkException">The port is taken.</exception>
    public static SimulatedTcpPort Listen(int port)
    {
        var server = new TcpListener(IPAddress.Loopback, port);
        try
        {
            server.Start();
            return new SimulatedTcpPort(server);
        }
        catch (SocketException e)
        {
            server.Dispose();
            throw new LinkException(
                LinkFault.InUse,
                FormattableString.Invariant($"TCP port {port} of this computer cannot be used: {e.Message}. Choose another."),
                e);
        }
    }

    public Task WaitForListenerAsync(CancellationToken cancellationToken) => _listener.WaitAsync(cancellationToken);

    public async ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancellationToken)
    {
        while (!bytes.IsEmpty)
        {
            await WaitForListenerAsync(cancellationToken);
            try
            {
                bytes = bytes[(_client is { } client ? await client.SendAsync(bytes, cancellationToken) : 0)..];
            }
            catch (Exception e) when (e is SocketException or ObjectDisposedException)
            {
                _listener.Set(listening: false); // the rest goes to the next one
            }
        }
    }

    public ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken) =>
        _received.ReadAsync(buffer, cancellationToken);

    public async ValueTask DisposeAsync()
    {
        if (Interlocked.Exchange(ref _disposed, 1) != 0)
        {
            return;
        }

        await _closing.CancelAsync();
        await _serving;
        _server.Dispose();
        _closing.Dispose();
    }

    private async Task ServeAsync(CancellationToken cancellationToken)
    {
        try
        {
            while (true)
            {
                using var client = await _server.AcceptSocketAsync(cancellationToken);
                client.NoDelay = true;
                _client = client;
                _listener.Set(listening: true);
                await ReceiveAsync(client, cancellationToken);
                _listener.Set(listening: false);
                _client = null;
            }
        }
        catch (OperationCanceledException)
        {
            // The port is being closed.
        }
        finally
        {
            _listener.End();
            _received.End();
        }
    }

    private async Task ReceiveAsync(Socket client, CancellationToken cancellationToken)
    {
        var buffer = new byte[4096];
        try
        {
            while (await client.ReceiveAsync(buffer, cancellationToken) is > 0 and var count)
            {
                _received.Add(buffer.AsSpan(0, count));
            }
        }
        catch (SocketException)
        {
            // The listener left without a word.
        }
    }
}

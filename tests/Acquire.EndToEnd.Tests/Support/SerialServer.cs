using System.Net;
using System.Net.Sockets;

namespace Acquire.EndToEnd.Tests.Support;

/// <summary>Debian's ser2net on loopback in front of one end of a cable: a serial-over-network server that is not ours.</summary>
internal sealed class SerialServer : IAsyncDisposable
{
    private readonly RunningProgram _ser2net;

    private SerialServer(RunningProgram ser2net, int port) => (_ser2net, Port) = (ser2net, port);

    public int Port { get; }

    public static async Task<SerialServer> StartAsync(string folder, string device, string accepter, int? onPort = null)
    {
        Tools.Require("ser2net");
        var port = onPort ?? FreePort();
        var configuration = Path.Combine(folder, "ser2net.yaml");
        await File.WriteAllTextAsync(
            configuration,
            string.Create(
                CultureInfo.InvariantCulture,
                $"connection: &densitometer\n  accepter: {accepter},127.0.0.1,{port}\n  connector: serialdev,{device},9600n81,local\n"),
            TestContext.Current.CancellationToken);
        var ser2net = RunningProgram.Start("ser2net", ["-n", "-u", "-c", configuration, "-P", Path.Combine(folder, "ser2net.pid")]);
        var server = new SerialServer(ser2net, port);
        await ser2net.UntilAsync(() => Listens(port), $"ser2net on port {port}");
        return server;
    }

    public ValueTask DisposeAsync() => _ser2net.DisposeAsync();

    private static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }

    /// <summary>Asks the system, since a connection would take the server's only place.</summary>
    private static bool Listens(int port) => System.Net.NetworkInformation.IPGlobalProperties.GetIPGlobalProperties()
        .GetActiveTcpListeners()
        .Any(e => e.Port == port);
}

using System.Net;
using System.Net.Sockets;
using System.Text;

namespace Acquire.Tests.Support;

/// <summary>A densitometer behind a real socket: who connects is sent one strip, patch by patch, a read each.</summary>
internal sealed class TcpInstrument : IAsyncDisposable
{
    private static readonly (string Key, decimal R, decimal G, decimal B)[] Patches =
    [
        ("dmin", 0.26m, 0.62m, 0.80m), ("ld",
            0.45m,
            0.86m,
            1.04m), ("hd", 1.26m, 1.74m, 2.00m), ("dmax", 2.12m, 2.58m, 2.92m), ("yellow", 0.37m, 0.88m, 2.72m),
    ];

    private readonly TcpListener _listener = new(IPAddress.Loopback, 0);
    private readonly CancellationTokenSource _stop = new();
    private readonly Task _serving;
    private string _lines = "";

    public TcpInstrument()
    {
        _listener.Start();
        _serving = ServeAsync();
    }

    /// <summary>Densities that make the aims of an entered reference, without correction.</summary>
    public static IEnumerable<string> ReferenceValues =>
        Patches.SelectMany(p => new[] { "--value", Invariant($"{p.Key} {p.R} {p.G} {p.B}") });

    /// <summary>How commands name it.</summary>
    public IEnumerable<string> Options => [
        "--port", $"tcp:127.0.0.1:{((IPEndPoint)_listener.LocalEndpoint).Port}", "--profile", "labelled-line", "--reads", "1", "--no-bell"];

    /// <summary>
    /// The strip that the next one who connects is sent: the reference with some patches moved, in all colours or in one.
    /// </summary>
    public void Lay(params (string Key, decimal R, decimal G, decimal B)[] moves)
    {
        var lines = from p in Patches
                    let m = moves.FirstOrDefault(m => m.Key == p.Key)
                    select Invariant($"R {p.R + m.R:0.00} G {p.G + m.G:0.00} B {p.B + m.B:0.00}\r\n");
        _lines = string.Concat(lines);
    }

    public async ValueTask DisposeAsync()
    {
        await _stop.CancelAsync();
        _listener.Dispose();
        await _serving;
        _stop.Dispose();
    }

    private async Task ServeAsync()
    {
        try
        {
            while (true)
            {
                using var client = await _listener.AcceptTcpClientAsync(_stop.Token);
                var stream = client.GetStream();
                await stream.WriteAsync(Encoding.ASCII.GetBytes(_lines), _stop.Token);
                _ = await stream.ReadAsync(new byte[1], _stop.Token);
            }
        }
        catch (Exception e) when (e is OperationCanceledException or SocketException or IOException or ObjectDisposedException)
        {
        }
    }

    private static string Invariant(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}

using System.Net;
using System.Net.Sockets;
using System.Text;

namespace Acquire.Tests.Commands;

/// <summary>A link that breaks is in the log, whatever is read.</summary>
public sealed class LinkFaultLogTests : IAsyncDisposable
{
    private readonly InMemory _program = new();
    private readonly TcpListener _listener = new(IPAddress.Loopback, 0);
    private readonly Task _serving;

    public LinkFaultLogTests()
    {
        _listener.Start();
        _serving = ServeOneReadingAsync();
    }

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public async ValueTask DisposeAsync()
    {
        _listener.Dispose();
        await _serving.ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
        _program.Dispose();
    }

    [Theory]
    [InlineData("read --lot 2417")]
    [InlineData("lot reference 2417")]
    [InlineData("lot recheck 2417")]
    [InlineData("check --plaque bench")]
    [InlineData("repeatability --patches ld")]
    public async Task Link_that_breaks_is_logged(string command)
    {
        await DoAsync("lot", "add", "2417", "--process", "c41");
        await DoAsync(["lot", "reference", "2417", .. TcpInstrument.ReferenceValues]);
        await DoAsync("plaque", "add", "bench", "--patch", "low 0.05 0.06 0.07", "--patch", "high 2.95 3.01 3.05");
        var port = $"tcp:127.0.0.1:{((IPEndPoint)_listener.LocalEndpoint).Port}";
        var (code, _, _) = await _program.RunAsync(
            [.. command.Split(' '), "--port", port, "--profile", "labelled-line", "--reads", "2", "--no-bell", "--give-up", "0.2"]);

        Assert.Equal(3, code);
        var log = string.Concat(
            await Task.WhenAll(Directory.GetFiles(Path.Combine(_program.Folder, "logs")).Select(f => File.ReadAllTextAsync(f, Token))));
        Assert.Contains($"Lost {port}", log, StringComparison.Ordinal);
    }

    private async Task DoAsync(params string[] arguments)
    {
        var (code, _, error) = await _program.RunAsync(arguments);
        Assert.True(code == 0, error);
    }

    /// <summary>Sends one reading, then hangs up for good.</summary>
    private async Task ServeOneReadingAsync()
    {
        using var client = await _listener.AcceptTcpClientAsync(Token);
        _listener.Stop();
        await client.GetStream().WriteAsync(Encoding.ASCII.GetBytes("R 0.26 G 0.62 B 0.80\r\n"), Token);
    }
}

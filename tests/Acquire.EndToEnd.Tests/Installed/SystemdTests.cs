using System.Net.Sockets;
using System.Text;
using Acquire.EndToEnd.Tests.Support;

namespace Acquire.EndToEnd.Tests.Installed;

/// <summary>What systemd hears of the service. The protocol: sd_notify(3), datagrams on a socket that a variable names.</summary>
public sealed class SystemdTests : IDisposable
{
    private readonly Darkroom _darkroom = new();
    private readonly Socket _systemd = new(AddressFamily.Unix, SocketType.Dgram, ProtocolType.Unspecified);

    public SystemdTests()
    {
        Tools.Require("kill");
        _systemd.Bind(new UnixDomainSocketEndPoint(Address));
    }

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    private string Address => Path.Combine(_darkroom.Folder, "notify");

    public void Dispose()
    {
        _systemd.Dispose();
        _darkroom.Dispose();
    }

    [Fact]
    public async Task Service_says_that_it_lives_when_it_is_ready_and_when_it_stops()
    {
        await using var service = _darkroom.StartWith(
            new Dictionary<string, string> { ["NOTIFY_SOCKET"] = Address, ["WATCHDOG_USEC"] = "200000" }, "serve");
        await HearAsync("READY=1");
        using var client = new HttpClient();
        await service.UntilAsync(() => service.Out.Contains("Listening on ", StringComparison.Ordinal), "the address");
        var url = service.Out.Split("Listening on ")[1].Split('\n')[0].Trim();
        Assert.Equal("ready", await client.GetStringAsync(new Uri($"{url}/health/ready"), Token));
        for (var n = 0; n < 3; n++)
        {
            await HearAsync("WATCHDOG=1");
        }

        var code = service.SignalAsync("TERM");
        await HearAsync("STOPPING=1");
        Assert.Equal(0, await code);
        Assert.False(File.Exists(Path.Combine(_darkroom.Data, "service.json")));
    }

    /// <summary>Waits for a word; others may come before it.</summary>
    private async Task HearAsync(string word)
    {
        using var patience = CancellationTokenSource.CreateLinkedTokenSource(Token);
        patience.CancelAfter(TimeSpan.FromSeconds(60));
        var buffer = new byte[4096];
        string heard;
        do
        {
            heard = Encoding.UTF8.GetString(buffer, 0, await _systemd.ReceiveAsync(buffer, patience.Token));
        }
        while (!heard.Split('\n').Contains(word));
    }
}

using System.Net;
using System.Net.Sockets;
using System.Text.Json;
using Acquire.EndToEnd.Tests.Support;

namespace Acquire.EndToEnd.Tests.Service;

/// <summary>Starting where something is missing or taken, and stopping where something hangs.</summary>
[Trait("speed", "slow")]
public class StartAndStopTests
{
    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Second_service_on_a_folder_is_refused_and_names_the_first()
    {
        using var darkroom = new Darkroom();
        await using var first = await RunningService.StartAsync(darkroom);
        var (code, output, error) = await darkroom.RunAsync("serve", "--url", "http://127.0.0.1:0");
        Assert.Equal(2, code);
        Assert.DoesNotContain("Listening", output, StringComparison.Ordinal);
        Assert.Contains(first.Program.Id.ToString(CultureInfo.InvariantCulture), error, StringComparison.Ordinal);
        Assert.Contains(first.Url, error, StringComparison.Ordinal);
        _ = await first.GetAsync("instruments");
        Assert.True(File.Exists(Path.Combine(darkroom.Data, "service.json")));
    }

    [Fact]
    public async Task Missing_and_busy_ports_are_said_and_connected_when_they_come()
    {
        await using var work = await DarkroomAtWork.EquipAsync("busy");
        using var elsewhere = new Darkroom();
        await using var holder = elsewhere.Start("listen", "--port", work.Ports.PathOf("busy"), "--profile", "labelled-line");
        await holder.UntilAsync(() => (holder.Out + holder.Error).Contains("connected", StringComparison.OrdinalIgnoreCase), "a held port");
        await work.Darkroom.DoAsync("instrument", "add", "missing", "--port", work.Ports.PathOf("missing"), "--profile", "labelled-line");

        await using var service = await RunningService.StartAsync(work.Darkroom);
        using (var client = service.Client())
        {
            Assert.Equal(HttpStatusCode.OK, (await client.GetAsync(new Uri("/health/ready", UriKind.Relative), Token)).StatusCode);
        }

        foreach (var name in new[] { "missing", "busy" })
        {
            var live = (await service.UntilAsync(
                "instruments",
                l => Live(l, name).GetProperty("message").GetString()!.Contains(work.Ports.PathOf(name), StringComparison.Ordinal), name));
            Assert.NotEqual("connected", Live(live, name).GetProperty("link").GetString());
        }

        await work.Ports.PlugAsync("missing");
        _ = await service.LinkAsync("missing", "connected");
        await holder.DisposeAsync();
        _ = await service.LinkAsync("busy", "connected");
        await work.Ports.SendAsync("busy", DarkroomAtWork.Strip[0]);
        _ = await service.UntilAsync("instruments/busy/loose", l => l.GetArrayLength() == 1, "a loose reading");
    }

    /// <summary>
    /// The dead port is a serial server that never answers: the connection hangs in the kernel. The limit is that of the service itself;
    /// what a machine with far more to do than cores adds to the end of a process is allowed for.
    /// </summary>
    [Fact]
    public async Task Stops_soon_with_a_dead_port_and_open_streams_and_leaves_sessions_to_resume()
    {
        await using var work = await DarkroomAtWork.EquipAsync("bench");
        using var dead = new DeadServer();
        await work.Darkroom.DoAsync("instrument", "add", "dead", "--port", $"tcp:127.0.0.1:{dead.Port}", "--profile", "labelled-line");
        await using var service = await RunningService.StartAsync(work.Darkroom);
        _ = await service.LinkAsync("bench", "connected");
        var session = await service.BeginStripAsync("bench", reads: 1);
        await work.Ports.SendAsync("bench", DarkroomAtWork.Strip[..2]);
        _ = await service.NextAsync(session, "hd 1");
        using var client = service.Client();
        var id = session.GetProperty("id").GetString()!;
        await using var events = await client.GetStreamAsync(new Uri($"/api/v1/sessions/{id}/events", UriKind.Relative), Token);
        await using var instruments = await client.GetStreamAsync(new Uri("/api/v1/instruments/events", UriKind.Relative), Token);

        var begun = TimeProvider.System.GetTimestamp();
        Assert.Equal(0, await service.Program.SignalAsync("TERM"));
        var took = TimeProvider.System.GetElapsedTime(begun);
        Assert.True(took < TimeSpan.FromSeconds(5), $"It took {took}.");
        Assert.False(File.Exists(Path.Combine(work.Darkroom.Data, "service.json")));

        await using var resume = work.Darkroom.Start("resume");
        await resume.SaidAsync("next: HD, read 1 of 1");
        await work.Ports.SendAsync("bench", DarkroomAtWork.Strip[2..]);
        Assert.True(await resume.ExitAsync() == 0, resume.Error);
        Assert.Single(await work.QueryAsync($"select outcome from session_end where outcome = 'completed'"));
    }

    private static JsonElement Live(JsonElement instruments, string name) =>
        instruments.EnumerateArray().Single(i => i.GetProperty("name").GetString() == name).GetProperty("live");

    /// <summary>Listens and takes nobody: its queue is full, so that whoever else connects waits in vain.</summary>
    private sealed class DeadServer : IDisposable
    {
        private readonly Socket _listener = new(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
        private readonly List<Socket> _waiting = [];

        public DeadServer()
        {
            _listener.Bind(new IPEndPoint(IPAddress.Loopback, 0));
            _listener.Listen(0);
            for (var i = 0; i < 3; i++)
            {
                var socket = new Socket(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp) { Blocking = false };
                try
                {
                    socket.Connect(_listener.LocalEndPoint!);
                }
                catch (SocketException fault) when (fault.SocketErrorCode is SocketError.WouldBlock or SocketError.InProgress)
                {
                    // It waits, which is what is wanted.
                }

                _waiting.Add(socket);
            }
        }

        public int Port => ((IPEndPoint)_listener.LocalEndPoint!).Port;

        public void Dispose()
        {
            _waiting.ForEach(s => s.Dispose());
            _listener.Dispose();
        }
    }
}

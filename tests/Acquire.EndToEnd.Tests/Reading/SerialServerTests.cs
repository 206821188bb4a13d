using System.Text;
using Acquire.EndToEnd.Tests.Support;

namespace Acquire.EndToEnd.Tests.Reading;

/// <summary>A densitometer at a serial-over-network server: ser2net in front of a pseudo-terminal.</summary>
[Trait("speed", "slow")]
public sealed class SerialServerTests : IDisposable
{
    private const string Strip =
        "R 0.26 G 0.62 B 0.80\r\nR 0.46 G 0.84 B 1.04\r\nR 1.26 G 1.74 B 2.00\r\nR 2.12 G 2.58 B 2.92\r\nR 0.37 G 0.88 B 2.72\r\n";

    private readonly Darkroom _darkroom = new();

    public void Dispose() => _darkroom.Dispose();

    [Theory]
    [InlineData("rfc2217", "telnet(rfc2217),tcp")]
    [InlineData("tcp", "tcp")]
    public async Task Strip_is_read_over_the_network(string scheme, string accepter)
    {
        await using var cable = await SerialCable.LayAsync(_darkroom.Folder);
        await using var server = await SerialServer.StartAsync(_darkroom.Folder, cable.Near, accepter);
        await _darkroom.AddLotAsync();
        await using var read = _darkroom.Start(
            "read", "--port", $"{scheme}:127.0.0.1:{server.Port}", "--profile", "labelled-line", "--lot", Darkroom.Lot, "--reads", "1");
        await read.SaidAsync("connected: ");
        await cable.SendAsync(Encoding.ASCII.GetBytes(Strip), seed: 1);
        Assert.True(await read.ExitAsync() == 0, read.Error);
        Assert.Single((await _darkroom.JsonAsync("strip", "list")).EnumerateArray());
    }

    /// <summary>
    /// The rate is looked at on the server's pseudo-terminal with stty; framing cannot be, since pseudo-terminals have none.
    /// </summary>
    [Fact]
    public async Task Rate_is_set_at_the_server_and_every_byte_comes_through()
    {
        Tools.Require("stty");
        await using var cable = await SerialCable.LayAsync(_darkroom.Folder);
        await using var server = await SerialServer.StartAsync(_darkroom.Folder, cable.Near, "telnet(rfc2217),tcp");
        var capture = Path.Combine(_darkroom.Folder, "capture.txt");
        await using var listen = _darkroom.Start(
            "listen", "--port", $"rfc2217:127.0.0.1:{server.Port}", "--baud", "1200", "--stop-bits", "2", "--capture", capture, "--hex");
        await listen.SaidAsync("connected: ");
        await using var stty = RunningProgram.Start("stty", ["-F", cable.Near]);
        Assert.Equal(0, await stty.ExitAsync());
        Assert.Contains("speed 1200 baud", stty.Out, StringComparison.Ordinal);

        byte[] every = [.. Enumerable.Range(0, 256).Select(i => (byte)i), 255, 255, 240, 255, 10, .. "end\r\n"u8];
        await cable.SendAsync(every, seed: 2);
        await listen.UntilAsync(() => listen.Out.Contains("  end\n", StringComparison.Ordinal), "the last line");
        Assert.Equal(0, await listen.SignalAsync());
        Assert.Contains("266 bytes in", listen.Out, StringComparison.Ordinal);
        var bytes = (await File.ReadAllLinesAsync(capture, TestContext.Current.CancellationToken))
            .Where(l => l.Contains('\t', StringComparison.Ordinal) && !l.StartsWith('#') && !l.EndsWith("\\end", StringComparison.Ordinal))
            .SelectMany(l => Unescape(l.Split('\t')[1]));
        Assert.Equal(every, bytes);
    }

    [Fact]
    public async Task Server_that_goes_and_comes_back_in_mid_strip_goes_on_at_the_same_read()
    {
        await using var cable = await SerialCable.LayAsync(_darkroom.Folder);
        await _darkroom.AddLotAsync();
        var server = await SerialServer.StartAsync(_darkroom.Folder, cable.Near, "telnet(rfc2217),tcp");
        await using var read = _darkroom.Start(
            "read", "--port", $"rfc2217:127.0.0.1:{server.Port}", "--profile", "labelled-line", "--lot", Darkroom.Lot, "--reads", "1");
        await read.SaidAsync("connected: ");
        await cable.SendAsync(Encoding.ASCII.GetBytes(Strip[..44]), seed: 3);
        await read.SaidAsync("next: HD");
        await server.DisposeAsync();
        await read.SaidAsync("gone: ");
        await using var again = await SerialServer.StartAsync(_darkroom.Folder, cable.Near, "telnet(rfc2217),tcp", server.Port);
        await read.SaidTimesAsync("connected: ", 2);
        await cable.SendAsync(Encoding.ASCII.GetBytes(Strip[44..]), seed: 4);
        Assert.True(await read.ExitAsync() == 0, read.Error);
    }

    [Fact]
    public async Task Server_without_settings_is_said_with_the_address_to_use_instead()
    {
        await using var cable = await SerialCable.LayAsync(_darkroom.Folder);
        await using var server = await SerialServer.StartAsync(_darkroom.Folder, cable.Near, "tcp");
        var (code, _, error) = await _darkroom.RunAsync("listen", "--port", $"rfc2217:127.0.0.1:{server.Port}");
        Assert.Equal(2, code);
        Assert.Contains($"tcp:127.0.0.1:{server.Port}", error, StringComparison.Ordinal);
    }

    private static IEnumerable<byte> Unescape(string text)
    {
        for (var i = 0; i < text.Length; i++)
        {
            if (text[i] == '\\')
            {
                yield return Convert.FromHexString(text.AsSpan(i + 2, 2))[0];
                i += 3;
            }
            else
            {
                yield return (byte)text[i];
            }
        }
    }
}

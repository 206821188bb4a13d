using System.Globalization;
using System.Text;
using Acquire.EndToEnd.Tests.Support;

namespace Acquire.EndToEnd.Tests.Monitoring;

/// <summary>What is listened to is captured, and the capture says the same again.</summary>
public sealed class ListenTests : IDisposable
{
    private readonly Darkroom _darkroom = new();

    public void Dispose() => _darkroom.Dispose();

    [Fact]
    public async Task Listening_shows_lines_hex_and_hints_and_its_capture_replays()
    {
        await using var cable = await SerialCable.LayAsync(_darkroom.Folder);
        var capture = Path.Combine(_darkroom.Folder, "capture.txt");
        await using var listen = _darkroom.Start("listen", "--port", cable.Near, "--profile", "labelled-line", "--hex", "--capture", capture);
        await listen.SaidAsync("connected: ");
        await cable.SendAsync(Encoding.Latin1.GetBytes("No. 1\r\nR 0.26 G 0.62 B 0.80\r\n\u00ffnoise\r\nR 0.4"), seed: 1);
        await listen.UntilAsync(() => listen.Out.Contains("→ unmatched", StringComparison.Ordinal), "the last line");
        await using var interrupt = RunningProgram.Start("kill", ["-INT", listen.Id.ToString(CultureInfo.InvariantCulture)]);
        Assert.Equal(0, await listen.ExitAsync());
        Assert.Contains("→ reading R 0.26 G 0.62 B 0.80", listen.Out, StringComparison.Ordinal);
        Assert.Contains("Line ends: CR LF 3 times.", listen.Out, StringComparison.Ordinal);
        Assert.Contains("R 0.4   (no line end so far)", listen.Out, StringComparison.Ordinal);
        Assert.Contains(" FF ", listen.Out, StringComparison.Ordinal);

        var replayed = await _darkroom.DoAsync("replay", capture, "--profile", "labelled-line", "--json");
        Assert.Equal(
            """{"red":0.26,"green":0.62,"blue":0.80,"visual":null,"state":"reading"}""", replayed.Split('\n')[0]);
        Assert.Contains("""
            "state":"unmatched","line":"\\xFFnoise"
            """, replayed, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Listening_ends_after_the_seconds_asked_for()
    {
        await using var cable = await SerialCable.LayAsync(_darkroom.Folder);
        var output = await _darkroom.DoAsync("listen", "--port", cable.Near, "--seconds", "0.2", "--baud", "1200", "--data-bits", "7", "--parity", "even");
        Assert.Contains("0 bytes in 0.", output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Port_that_is_not_there_leaves_no_capture_behind()
    {
        var capture = Path.Combine(_darkroom.Folder, "capture.txt");
        var (code, _, _) = await _darkroom.RunAsync("listen", "--port", Path.Combine(_darkroom.Folder, "nothing"), "--capture", capture);
        Assert.Equal(3, code);
        Assert.False(File.Exists(capture));
    }

    [Fact]
    public async Task Ports_are_listed_for_people_and_programs()
    {
        var (code, _, _) = await _darkroom.RunAsync("ports");
        Assert.Equal(0, code);
        Assert.All(
            (await _darkroom.JsonAsync("ports")).EnumerateArray(), p => Assert.NotEmpty(p.GetProperty("device").GetString()!));
    }
}

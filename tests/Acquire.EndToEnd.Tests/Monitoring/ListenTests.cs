using System.Text;
using Acquire.EndToEnd.Tests.Support;

namespace Acquire.EndToEnd.Tests.Monitoring;

/// <summary>What is listened to is captured, and the capture says the same again.</summary>
[Trait("speed", "slow")]
public sealed class ListenTests : IDisposable
{
    private readonly Darkroom _darkroom = new();

    public void Dispose() => _darkroom.Dispose();

    [Fact]
    public async Task Listening_shows_lines_hex_and_hints_and_its_capture_replays()
    {
        await using var cable = await SerialCable.LayAsync(_darkroom.Folder);
        var capture = Path.Combine(_darkroom.Folder, "capture.txt");
        await using var listen =
            _darkroom.Start("listen", "--port", cable.Near, "--profile", "labelled-line", "--hex", "--capture", capture);
        await listen.SaidAsync("connected: ");
        await cable.SendAsync(Encoding.Latin1.GetBytes("No. 1\r\nR 0.26 G 0.62 B 0.80\r\n\u00ffnoise\r\nR 0.4"), seed: 1);
        await listen.UntilAsync(() => listen.Out.Contains("→ unmatched", StringComparison.Ordinal), "the last line");
        Assert.Equal(0, await listen.SignalAsync());
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

    /// <summary>A day of line time: a line a second, with a break each hour; it would never end if it waited for the pauses.</summary>
    [Fact]
    public async Task Capture_of_a_day_replays_without_waiting_and_gives_every_reading()
    {
        var capture = Path.Combine(_darkroom.Folder, "day.txt");
        var begin = new DateTimeOffset(2026, 11, 25, 0, 0, 0, TimeSpan.Zero);
        var lines = Enumerable.Range(0, 86_400).Select(i => string.Create(
            CultureInfo.InvariantCulture,
            $"{begin.AddSeconds(i):O}\t{(i % 3600 == 3599 ? "\\break" : $"R 0.{i % 100:00} G 0.62 B 0.80\\x0D\\x0A")}"));
        await File.WriteAllLinesAsync(capture, ["# acquire capture 1", .. lines], TestContext.Current.CancellationToken);
        var output = await _darkroom.DoAsync("replay", capture, "--profile", "labelled-line", "--json");
        Assert.Equal(86_400 - 24, output.Split('\n').Count(l => l.EndsWith("\"state\":\"reading\"}", StringComparison.Ordinal)));
    }

    /// <summary>
    /// Binary noise, then a flood of 20 000 lines as fast as they go, one of them without end: nothing is lost, nothing hangs.
    /// </summary>
    [Fact]
    public async Task Noise_a_line_without_end_and_a_flood_are_taken_and_captured()
    {
        await using var cable = await SerialCable.LayAsync(_darkroom.Folder);
        var capture = Path.Combine(_darkroom.Folder, "capture.txt");
        await using var listen = _darkroom.Start("listen", "--port", cable.Near, "--profile", "labelled-line", "--capture", capture);
        await listen.SaidAsync("connected: ");
        var noise = new byte[5000];
        new Random(7).NextBytes(noise);
        byte[] flood =
        [
            .. noise, .. Encoding.ASCII.GetBytes("\r\n" + new string('x', 100_000) + "\r\n"
                + string.Concat(Enumerable.Repeat("R 0.26 G 0.62 B 0.80\r\n", 20_000)) + "R 2.12 G 2.58 B 2.92\r\n"),
        ];
        await cable.FloodAsync(flood);
        await listen.UntilAsync(() => listen.Out.Contains("→ reading R 2.12", StringComparison.Ordinal), "the last line");
        Assert.Equal(0, await listen.SignalAsync());
        Assert.Contains(string.Create(CultureInfo.InvariantCulture, $"{flood.Length} bytes in"), listen.Out, StringComparison.Ordinal);
        var replayed = await _darkroom.DoAsync("replay", capture, "--profile", "labelled-line", "--json");
        Assert.Equal(20_001, replayed.Split('\n').Count(l => l.EndsWith("\"state\":\"reading\"}", StringComparison.Ordinal)));
    }

    /// <summary>Characters with an even parity bit, as a line set to seven bits sends them; the pseudo-terminal passes all eight.</summary>
    [Theory]
    [InlineData("8", "none", "Try --data-bits 7 --parity even.", "\\xA00.")]
    [InlineData("7", "even", "the settings fit", "R 0.26 G 0.62 B 0.80")]
    public async Task Parity_set_wrongly_is_seen_in_the_top_bits(string dataBits, string parity, string hint, string text)
    {
        await using var cable = await SerialCable.LayAsync(_darkroom.Folder);
        await using var listen = _darkroom.Start("listen", "--port", cable.Near, "--data-bits", dataBits, "--parity", parity);
        await listen.SaidAsync("connected: ");
        await cable.SendAsync(
            [.. "R 0.26 G 0.62 B 0.80\r\nR 0.46 G 0.84 B 1.04\r\n"u8.ToArray().Select(b => (byte)(b | (byte.PopCount(b) & 1) << 7))],
            seed: 5);
        await listen.UntilAsync(() => listen.Out.Split('\n').Length > 2, "two lines");
        Assert.Equal(0, await listen.SignalAsync());
        Assert.Contains(hint, listen.Out, StringComparison.Ordinal);
        Assert.Contains(text, listen.Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Listening_ends_after_the_seconds_asked_for()
    {
        await using var cable = await SerialCable.LayAsync(_darkroom.Folder);
        var output = await _darkroom.DoAsync(
            "listen", "--port", cable.Near, "--seconds", "0.2", "--baud", "1200", "--data-bits", "7", "--parity", "even");
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

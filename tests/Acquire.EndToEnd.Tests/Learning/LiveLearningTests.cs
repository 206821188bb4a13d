using System.Numerics;
using System.Text;
using Acquire.EndToEnd.Tests.Support;

namespace Acquire.EndToEnd.Tests.Learning;

/// <summary>
/// Learns a profile of an instrument that shares no code with the program, over a pseudo-terminal pair, the answers typed to its standard
/// input. A pseudo-terminal takes any rate and no parity, so that neither is tried here.
/// </summary>
[Trait("speed", "slow")]
public sealed class LiveLearningTests : IDisposable
{
    private const string Question = "What does the display show, R G B?";
    private static readonly string[] Shown = ["0.26 0.62 0.80", "1.26 1.74 2.01", "0.46 0.84 1.04"];

    private readonly Darkroom _darkroom = new();

    private string Profile => Path.Combine(_darkroom.Folder, "ours.json");

    private string Kept => Path.Combine(_darkroom.Folder, "kept.txt");

    public void Dispose() => _darkroom.Dispose();

    [Theory]
    [InlineData("R {0} G {1} B {2}\r\n", false, "{ \"baud\": 9600 }", "{ \"lineEnd\": \"any\" }")]
    [InlineData("{0} {1} {2}", false, "{ \"baud\": 9600 }", "\"lineEnd\": \"none\", \"idleGapMs\": ")]
    [InlineData("R={0}\rG={1}\rB={2}\r", true, "\"dataBits\": 7, \"parity\": \"even\"", "{ \"lineEnd\": \"any\" }")]
    public async Task Profile_is_learned_proved_and_reads_what_was_kept(string format, bool parity, string link, string framing)
    {
        await using var cable = await SerialCable.LayAsync(_darkroom.Folder);
        await using var learn = Start(cable);
        await learn.SaidAsync("Trying 9600 8N1");
        for (var i = 0; i < 2; i++)
        {
            await SendAsync(cable, format, parity, i);
            await learn.SaidTimesAsync(Question, i + 1);
            await learn.TypeAsync(Shown[i]);
            await learn.SaidAsync(i == 0 ? "(reading 2)" : "To prove it");
        }

        await SendAsync(cable, format, parity, 2);
        await learn.SaidAsync("R 0.46 G 0.84 B 1.04: is this what the display shows? [Y/n]");
        Assert.False(File.Exists(Profile));
        await learn.TypeAsync("");

        Assert.True(await learn.ExitAsync() == 0, learn.Error);
        var json = await File.ReadAllTextAsync(Profile, TestContext.Current.CancellationToken);
        Assert.Contains(link, json, StringComparison.Ordinal);
        Assert.Contains(framing, json, StringComparison.Ordinal);
        Assert.Contains(
            "All 3 samples give what they must.", await _darkroom.DoAsync("profile", "test", Profile), StringComparison.Ordinal);
        Assert.Equal(
            ["""{"red":0.26,"green":0.62,"blue":0.80,"visual":null,"state":"reading"}""", """{"red":1.26,"green":1.74,"blue":2.01,"visual":null,"state":"reading"}""", """{"red":0.46,"green":0.84,"blue":1.04,"visual":null,"state":"reading"}"""],
            (await _darkroom.DoAsync("replay", Kept, "--profile", Profile, "--json")).Split('\n', StringSplitOptions.RemoveEmptyEntries));
    }

    [Theory]
    [InlineData("n", "not what the display shows")]
    [InlineData(null, "standard input is closed")]
    public async Task Profile_that_is_not_confirmed_is_not_written(string? answer, string reason)
    {
        await File.WriteAllTextAsync(Profile, "older", TestContext.Current.CancellationToken);
        await using var cable = await SerialCable.LayAsync(_darkroom.Folder);
        await using var learn = Start(cable, "--force");
        await learn.SaidAsync("Trying 9600 8N1");
        await learn.TypeAsync(Shown[0]);
        await learn.TypeAsync(Shown[1]);
        foreach (var (i, prompt) in new[] { "(reading 2)", "To prove it", "[Y/n]" }.Index())
        {
            await SendAsync(cable, "{0} {1} {2}\r\n", parity: false, i);
            await learn.SaidAsync(prompt);
        }

        await (answer is null ? Task.CompletedTask : learn.TypeAsync(answer));
        learn.EndInput();

        Assert.Equal(2, await learn.ExitAsync());
        Assert.Contains(reason, learn.Error, StringComparison.Ordinal);
        Assert.Equal("older", await File.ReadAllTextAsync(Profile, TestContext.Current.CancellationToken));
        Assert.Empty(Directory.GetFiles(_darkroom.Folder, "*.tmp"));
    }

    [Fact]
    public async Task Silence_with_nobody_to_ask_ends_at_once()
    {
        await using var cable = await SerialCable.LayAsync(_darkroom.Folder);
        var (code, _, error) = await _darkroom.RunAsync("profile", "learn", "--port", cable.Near, "--out", Profile, "--patience", "1");

        Assert.Equal(2, code);
        Assert.Contains("Nothing came within 1 s", error, StringComparison.Ordinal);
        Assert.Contains("standard input is closed", error, StringComparison.Ordinal);
        Assert.False(File.Exists(Profile));
    }

    [Fact]
    public async Task Cable_that_is_pulled_out_is_a_fault_of_the_port()
    {
        await using var cable = await SerialCable.LayAsync(_darkroom.Folder);
        await using var learn = Start(cable);
        await learn.SaidAsync("Trying 9600 8N1");
        await SendAsync(cable, "{0} {1} {2}\r\n", parity: false, 0);
        await learn.SaidAsync(Question);
        await learn.TypeAsync(Shown[0]);
        await learn.SaidAsync("(reading 2)");
        await cable.PullAsync();

        Assert.Equal(3, await learn.ExitAsync());
        Assert.Contains("went away", learn.Error, StringComparison.Ordinal);
        Assert.False(File.Exists(Profile));
        Assert.Contains("\\break", await File.ReadAllTextAsync(Kept, TestContext.Current.CancellationToken), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Capture_of_listen_with_lines_that_only_a_pause_ends_is_learned_with_its_rate()
    {
        await using var cable = await SerialCable.LayAsync(_darkroom.Folder);
        await using (var listen = _darkroom.Start("listen", "--port", cable.Near, "--baud", "2400", "--capture", Kept))
        {
            await listen.SaidAsync("Listening at 2400 8N1");
            for (var i = 0; i < 3; i++)
            {
                await SendAsync(cable, "{0} {1} {2}", parity: false, i);
                await listen.UntilAsync(() => listen.Out.Contains($"  {Shown[i]}\n", StringComparison.Ordinal), Shown[i]);
                await Task.Delay(TimeSpan.FromSeconds(1), TimeProvider.System, TestContext.Current.CancellationToken);
            }

            Assert.Equal(0, await listen.SignalAsync());
        }

        var shown = Shown.SelectMany(s => (string[])["--shown", s]);
        await _darkroom.DoAsync(["profile", "learn", "--capture", Kept, .. shown, "--force", "--out", Profile]);

        var json = await File.ReadAllTextAsync(Profile, TestContext.Current.CancellationToken);
        Assert.Contains("\"link\": { \"baud\": 2400 }", json, StringComparison.Ordinal);
        Assert.Contains("\"lineEnd\": \"none\", \"idleGapMs\": ", json, StringComparison.Ordinal);
        Assert.Equal(3, (await _darkroom.DoAsync("replay", Kept, "--profile", Profile, "--json")).Split("\"reading\"").Length - 1);
    }

    private RunningProgram Start(SerialCable cable, params string[] more) =>
        _darkroom.StartTyped(["profile", "learn", "--port", cable.Near, "--out", Profile, "--keep", Kept, .. more]);

    private static Task SendAsync(SerialCable cable, string format, bool parity, int reading) => cable.SendAsync(
        [.. Encoding.ASCII.GetBytes(string.Format(null, format, [.. Shown[reading].Split(' ')])).Select(
            b => (byte)(parity ? b | ((BitOperations.PopCount(b) & 1) << 7) : b))],
        reading);
}

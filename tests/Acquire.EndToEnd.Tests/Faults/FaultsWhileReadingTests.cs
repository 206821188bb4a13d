using System.Text;
using Acquire.EndToEnd.Tests.Support;

namespace Acquire.EndToEnd.Tests.Faults;

/// <summary>Whatever ends a reading early, nothing that was read is lost.</summary>
[Trait("speed", "slow")]
public sealed class FaultsWhileReadingTests : IDisposable
{
    private readonly Darkroom _darkroom = new();

    public void Dispose() => _darkroom.Dispose();

    [Fact]
    public async Task Port_in_use_names_the_holder()
    {
        await using var cable = await SerialCable.LayAsync(_darkroom.Folder);
        await _darkroom.AddLotAsync();
        await using var first = Read(cable);
        await first.SaidAsync("next: D-min");
        var (code, _, error) = await _darkroom.RunAsync("read", "--port", cable.Near, "--profile", "labelled-line", "--lot", Darkroom.Lot);
        Assert.Equal(3, code);
        Assert.Contains(first.Id.ToString(CultureInfo.InvariantCulture), error, StringComparison.Ordinal);
        Assert.Contains("acquire", error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Cable_pulled_in_mid_strip_keeps_the_lines()
    {
        await using var cable = await SerialCable.LayAsync(_darkroom.Folder);
        await _darkroom.AddLotAsync();
        await using var read = Read(cable, "--give-up", "1");
        await read.SaidAsync("next: D-min");
        await cable.SendAsync(Encoding.ASCII.GetBytes("R 0.26 G 0.62 B 0.80\r\n"), seed: 1);
        await read.SaidAsync("read 2 of 3");
        await cable.PullAsync();
        Assert.Equal(3, await read.ExitAsync());
        Assert.Matches("Kept in session [-0-9a-f]{36}: 1 line, 1 read\\.", read.Error);
        await AssertLinesStoredAsync("R 0.26 G 0.62 B 0.80");
    }

    [Fact]
    public async Task Cable_pulled_and_plugged_in_again_goes_on_at_the_same_read()
    {
        string[] lines =
        [
            "R 0.26 G 0.62 B 0.80", "R 0.27 G 0.62 B 0.80", "R 0.46 G 0.84 B 1.04", "R 0.46 G 0.85 B 1.04", "R 1.26 G 1.74 B 2.00",
            "R 1.27 G 1.74 B 2.00", "R 2.12 G 2.58 B 2.92", "R 2.13 G 2.58 B 2.92", "R 0.37 G 0.88 B 2.72", "R 0.38 G 0.88 B 2.72",
        ];
        await _darkroom.AddLotAsync();
        await using var plug = new Plug();
        var cable = plug.Cable = await SerialCable.LayAsync(_darkroom.Folder);
        await using var read = Read(cable, "--reads", "2", "--give-up", "60");
        await read.SaidAsync("next: D-min");
        var (sent, plugs) = (0, 1);
        foreach (var upTo in new[] { 1, 4, 7, lines.Length })
        {
            // All but the last plug end in the middle of a line, which is then read again.
            var cut = upTo < lines.Length ? lines[upTo][..9] : "";
            await cable.SendAsync(Encoding.ASCII.GetBytes(string.Concat(lines[sent..upTo].Select(l => l + "\r\n")) + cut), seed: upTo);
            sent = upTo;
            if (upTo < lines.Length)
            {
                await read.SaidAsync($"next: {Target(upTo)}");
                await ReceivedAsync(cut);
                await cable.PullAsync();
                await read.SaidTimesAsync("gone: ", plugs);
                cable = plug.Cable = await SerialCable.LayAsync(_darkroom.Folder);
                await read.SaidTimesAsync("connected: ", ++plugs);
            }
        }

        Assert.True(await read.ExitAsync() == 0, read.Error);
        await AssertLinesStoredAsync(
            [.. lines[..1], lines[1][..9], .. lines[1..4], lines[4][..9], .. lines[4..7], lines[7][..9], .. lines[7..]]);
        var list = await _darkroom.JsonAsync("strip", "list");
        var strip = await _darkroom.JsonAsync("strip", "show", Assert.Single(list.EnumerateArray()).GetProperty("id").GetString()!);
        var reads = strip.GetProperty("patches").EnumerateArray()
            .SelectMany(p => p.GetProperty("reads").EnumerateArray())
            .SelectMany(r => r.GetProperty("lines").EnumerateArray())
            .Select(l => l.GetString()!);
        Assert.Equal(lines, reads);

        static string Target(int taken) => $"{new[] { "D-min", "LD", "HD", "D-max", "Yellow" }[taken / 2]}, read {taken % 2 + 1} of 2";
    }

    /// <summary>In sum it is away for longer than it is waited for, but each time for a moment only.</summary>
    [Fact]
    public async Task Contact_that_flickers_does_not_end_the_reading()
    {
        await _darkroom.AddLotAsync();
        await using var plug = new Plug();
        var cable = plug.Cable = await SerialCable.LayAsync(_darkroom.Folder);
        await using var read = Read(cable, "--reads", "1", "--give-up", "4");
        await read.SaidAsync("next: D-min");
        for (var plugs = 1; plugs <= 3; plugs++)
        {
            await cable.PullAsync();
            await read.SaidTimesAsync("gone: ", plugs);
            await Task.Delay(TimeSpan.FromSeconds(0.3), TimeProvider.System, TestContext.Current.CancellationToken);
            cable = plug.Cable = await SerialCable.LayAsync(_darkroom.Folder);
            await read.SaidTimesAsync("connected: ", plugs + 1);
            await Task.Delay(TimeSpan.FromSeconds(3), TimeProvider.System, TestContext.Current.CancellationToken);
        }

        string[] lines = [
            "R 0.26 G 0.62 B 0.80", "R 0.46 G 0.84 B 1.04", "R 1.26 G 1.74 B 2.00", "R 2.12 G 2.58 B 2.92", "R 0.37 G 0.88 B 2.72"];
        await cable.SendAsync(Encoding.ASCII.GetBytes(string.Concat(lines.Select(l => l + "\r\n"))), seed: 5);
        Assert.True(await read.ExitAsync() == 0, read.Error);
        Assert.Contains(", back after ", read.Error, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("INT")]
    [InlineData("TERM")]
    public async Task Signal_cancels_and_keeps_the_lines(string signal)
    {
        Assert.SkipWhen(
            signal == "INT" && InterruptIsIgnored(), "Interrupts are ignored where these tests were started, and so in what they start.");
        await using var cable = await SerialCable.LayAsync(_darkroom.Folder);
        await _darkroom.AddLotAsync();
        await using var read = Read(cable);
        await read.SaidAsync("next: D-min");
        await cable.SendAsync(Encoding.ASCII.GetBytes("R 0.26 G 0.62 B 0.80\r\n"), seed: 2);
        await read.SaidAsync("read 2 of 3");
        await using var interrupt = RunningProgram.Start("kill", [$"-{signal}", read.Id.ToString(CultureInfo.InvariantCulture)]);
        Assert.Equal(2, await read.ExitAsync());
        Assert.Contains("Stopped: no strip was recorded.", read.Error, StringComparison.Ordinal);
        await AssertLinesStoredAsync("R 0.26 G 0.62 B 0.80");
    }

    [Fact]
    public async Task Killed_program_has_every_line_that_it_showed()
    {
        await using var cable = await SerialCable.LayAsync(_darkroom.Folder);
        await _darkroom.AddLotAsync();
        await using var read = Read(cable);
        await read.SaidAsync("next: D-min");
        await cable.SendAsync(Encoding.ASCII.GetBytes("R 0.26 G 0.62 B 0.80\r\nR 0.27 G 0.62 B 0.80\r\n"), seed: 3);
        await read.SaidAsync("read 3 of 3");
        await read.DisposeAsync();
        await AssertLinesStoredAsync("R 0.26 G 0.62 B 0.80", "R 0.27 G 0.62 B 0.80");
    }

    /// <summary>
    /// The kernel refuses to let any file grow past a limit: what a full disk looks like to the store. The runtime maps its own code
    /// through a large file unless told not to, and would not start under the limit.
    /// </summary>
    [Fact]
    public async Task Full_disk_in_mid_strip_keeps_every_line_in_the_store_or_in_a_rescue_file()
    {
        await using var cable = await SerialCable.LayAsync(_darkroom.Folder);
        await _darkroom.AddLotAsync();
        await using var read = RunningProgram.Start(
            "bash",
            [
                "-c", "trap '' XFSZ; export DOTNET_EnableWriteXorExecute=0; ulimit -f 200; exec \"$@\"", "limited", Path.Combine(
                    AppContext.BaseDirectory, "acquire"),
                "read",
                "--port", cable.Near, "--profile", "labelled-line", "--lot", Darkroom.Lot, "--reads", "50", "--data", _darkroom.Data,
            ],
            _darkroom.Folder);
        await read.SaidAsync("next: D-min");
        var sent = Enumerable.Range(0, 250)
            .Select(i => FormattableString.Invariant($"R 0.{25 + (i % 3)} G 0.{61 + (i / 3 % 3)} B 0.{79 + (i / 9 % 3)}"))
            .ToList();
        await cable.SendAsync(Encoding.ASCII.GetBytes(string.Concat(sent.Select(l => l + "\r\n"))), seed: 4);

        Assert.Equal(4, await read.ExitAsync());
        var rescue = Assert.Single(Directory.GetFiles(_darkroom.Folder, "acquire-rescued-*.txt"));
        Assert.Contains(rescue, read.Error, StringComparison.Ordinal);
        var rescued = (await File.ReadAllLinesAsync(rescue, TestContext.Current.CancellationToken))
            .Where(l => !l.StartsWith('#'))
            .Select(l => l.Split('\t')[2])
            .ToList();
        Assert.InRange(rescued.Count, 2, 249);
        Assert.Equal(sent.Take(rescued.Count), rescued);
        var stored = await StoredLinesAsync();
        Assert.Equal(sent.Take(stored.Count), stored);
        Assert.InRange(stored.Count, 1, rescued.Count);
    }

    /// <summary>Whether this process was started with interrupts ignored, as shells do with jobs in the background.</summary>
    private static bool InterruptIsIgnored()
    {
        const ulong Interrupt = 1 << 1;
        return OperatingSystem.IsLinux()
            && File.ReadLines("/proc/self/status").FirstOrDefault(l => l.StartsWith("SigIgn:", StringComparison.Ordinal)) is { } line
            && (ulong.Parse(line["SigIgn:".Length..].Trim(), NumberStyles.HexNumber, CultureInfo.InvariantCulture) & Interrupt) != 0;
    }

    private RunningProgram Read(SerialCable cable, params IEnumerable<string> options) => _darkroom.Start(
        ["read", "--port", cable.Near, "--profile", "labelled-line", "--lot", Darkroom.Lot, .. options]);

    /// <summary>Waits until the journal ends with a text: what a pulled cable still holds is lost, and no program could help it.</summary>
    private async Task ReceivedAsync(string text)
    {
        const string Script = """
            import sqlite3, sys, time
            for _ in range(1200):
                store = sqlite3.connect(sys.argv[1])
                got = b"".join(bytes(raw) for (raw,) in store.execute("select bytes from session_entry where event = 'received' order by session_id, sequence"))
                store.close()
                if got.endswith(sys.argv[2].encode()):
                    sys.exit(0)
                time.sleep(0.05)
            sys.exit("the text never came")
            """;
        await using var python = RunningProgram.Start("python3", ["-c", Script, Path.Combine(_darkroom.Data, "acquire.db"), text]);
        Assert.True(await python.ExitAsync() == 0, python.Error);
    }

    private async Task AssertLinesStoredAsync(params IEnumerable<string> lines) => Assert.Equal(lines, await StoredLinesAsync());

    /// <summary>Reads the store with a reader that is not ours: Python's sqlite3 module.</summary>
    private async Task<List<string>> StoredLinesAsync()
    {
        const string Script = """
            import sqlite3, sys
            store = sqlite3.connect(sys.argv[1])
            assert store.execute("pragma integrity_check").fetchone() == ("ok",)
            for (raw,) in store.execute("select bytes from session_line order by session_id, sequence"):
                print(bytes(raw).decode("latin-1"))
            """;
        await using var python = RunningProgram.Start("python3", ["-c", Script, Path.Combine(_darkroom.Data, "acquire.db")]);
        Assert.True(await python.ExitAsync() == 0, python.Error);
        return [.. python.Out.Split('\n', StringSplitOptions.RemoveEmptyEntries)];
    }

    /// <summary>The cable that is laid now, taken away at the end of the test.</summary>
    private sealed class Plug : IAsyncDisposable
    {
        public SerialCable? Cable { get; set; }

        public ValueTask DisposeAsync() => Cable?.DisposeAsync() ?? ValueTask.CompletedTask;
    }
}

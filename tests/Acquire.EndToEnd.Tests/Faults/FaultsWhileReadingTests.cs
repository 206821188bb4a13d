using System.Globalization;
using System.Text;
using Acquire.EndToEnd.Tests.Support;

namespace Acquire.EndToEnd.Tests.Faults;

/// <summary>Whatever ends a reading early, nothing that was read is lost.</summary>
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
        await using var read = Read(cable);
        await read.SaidAsync("next: D-min");
        await cable.SendAsync(Encoding.ASCII.GetBytes("R 0.26 G 0.62 B 0.80\r\n"), seed: 1);
        await read.SaidAsync("read 2 of 3");
        await cable.PullAsync();
        Assert.Equal(3, await read.ExitAsync());
        Assert.Contains("1 lines, 1 reads are kept in session", read.Error, StringComparison.Ordinal);
        await AssertLinesStoredAsync("R 0.26 G 0.62 B 0.80");
    }

    [Theory]
    [InlineData("INT")]
    [InlineData("TERM")]
    public async Task Signal_cancels_and_keeps_the_lines(string signal)
    {
        Assert.SkipWhen(signal == "INT" && InterruptIsIgnored(), "Interrupts are ignored where these tests were started, and so in what they start.");
        await using var cable = await SerialCable.LayAsync(_darkroom.Folder);
        await _darkroom.AddLotAsync();
        await using var read = Read(cable);
        await read.SaidAsync("next: D-min");
        await cable.SendAsync(Encoding.ASCII.GetBytes("R 0.26 G 0.62 B 0.80\r\n"), seed: 2);
        await read.SaidAsync("read 2 of 3");
        await using var interrupt = RunningProgram.Start("kill", [$"-{signal}", read.Id.ToString(CultureInfo.InvariantCulture)]);
        Assert.Equal(2, await read.ExitAsync());
        Assert.Contains("Cancelled: no strip was recorded.", read.Error, StringComparison.Ordinal);
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
                "-c", "trap '' XFSZ; export DOTNET_EnableWriteXorExecute=0; ulimit -f 100; exec \"$@\"", "limited", Path.Combine(AppContext.BaseDirectory, "acquire"),
                "read", "--port", cable.Near, "--profile", "labelled-line", "--lot", Darkroom.Lot, "--reads", "20", "--data", _darkroom.Data,
            ],
            _darkroom.Folder);
        await read.SaidAsync("next: D-min");
        var sent = Enumerable.Range(0, 100).Select(i => FormattableString.Invariant($"R 0.{i:00} G 0.{i:00} B 0.{i:00}")).ToList();
        await cable.SendAsync(Encoding.ASCII.GetBytes(string.Concat(sent.Select(l => l + "\r\n"))), seed: 4);

        Assert.Equal(4, await read.ExitAsync());
        var rescue = Assert.Single(Directory.GetFiles(_darkroom.Folder, "acquire-rescued-*.txt"));
        Assert.Contains(rescue, read.Error, StringComparison.Ordinal);
        var rescued = (await File.ReadAllLinesAsync(rescue, TestContext.Current.CancellationToken))
            .Where(l => !l.StartsWith('#'))
            .Select(l => l.Split('\t')[2])
            .ToList();
        Assert.InRange(rescued.Count, 2, 99);
        Assert.Equal(sent.Take(rescued.Count), rescued);
        var stored = await StoredLinesAsync();
        Assert.Equal(sent.Take(stored.Count), stored);
        Assert.Equal(rescued.Count - 1, stored.Count);
    }

    /// <summary>Whether this process was started with interrupts ignored, as shells do with jobs in the background.</summary>
    private static bool InterruptIsIgnored()
    {
        const ulong Interrupt = 1 << 1;
        return OperatingSystem.IsLinux()
            && File.ReadLines("/proc/self/status").FirstOrDefault(l => l.StartsWith("SigIgn:", StringComparison.Ordinal)) is { } line
            && (ulong.Parse(line["SigIgn:".Length..].Trim(), NumberStyles.HexNumber, CultureInfo.InvariantCulture) & Interrupt) != 0;
    }

    private RunningProgram Read(SerialCable cable) => _darkroom.Start(
        "read", "--port", cable.Near, "--profile", "labelled-line", "--lot", Darkroom.Lot, "--reads", "3");

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
}

using System.Diagnostics;

namespace Acquire.Tests.House;

/// <summary>The runner behind <c>tools/check</c>, on programs that speak as a test program does.</summary>
public sealed class TestRunTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("acquire-test-run-").FullName;

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    private string Signals => Path.Combine(_folder, "signals");

    private string Child => Path.Combine(_folder, "child");

    [Fact]
    public async Task Hanging_suite_is_killed_unasked_its_results_kept_and_its_hanging_test_named()
    {
        var hangs = Suite(
            "hangs",
            Discovered(4), Started("a"), Passed("a"), Started("b"), Failed("b", "Expected 1"), Started("c"),
            $"for s in INT TERM HUP QUIT; do trap \"echo $s >> {Signals}\" $s; done",
            $"sleep 600 & echo $! > {Child}; while :; do wait; done");
        var (code, text) = await RunAsync("--silence", "1", hangs, Suite("ends", Discovered(1), Started("d"), Passed("d")));

        Assert.Equal(1, code);
        Assert.Contains(
            "hangs was killed: no test ended or said anything for 1 s; 1 tests were not reached.", text, StringComparison.Ordinal);
        Assert.Matches("FAILED c\n +had run for [0-9.]+ s when hangs was killed", text);
        Assert.Contains("Expected 1", text, StringComparison.Ordinal);
        Assert.EndsWith("\nFailed:\n  b\n  c\n2 passed, 2 failed\n", text, StringComparison.Ordinal);
        Assert.False(File.Exists(Signals));
        Assert.False(IsAlive(int.Parse(await File.ReadAllTextAsync(Child, Token), System.Globalization.CultureInfo.InvariantCulture)));
    }

    [Fact]
    public async Task Test_that_takes_long_and_writes_meanwhile_does_not_hang()
    {
        const string Says =
            """for i in 1 2 3 4 5 6 7 8; do sleep 0.5; echo '{"$type":"test-output","TestUniqueID":"a","Output":"."}'; done""";
        var (code, text) = await RunAsync("--silence", "2", Suite("talks", Discovered(1), Started("a"), Says, Passed("a"), Finished));

        Assert.True(code == 0, text);
        Assert.EndsWith("\n1 passed, 0 failed\n", text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Suite_that_dies_keeps_its_results_and_the_test_it_died_in_is_named()
    {
        var (code, text) = await RunAsync(Suite("dies", Discovered(2), Started("a"), Passed("a"), Started("b"), "kill -SEGV $$"));
        Assert.Equal(1, code);
        Assert.Contains("when dies ended with exit code 139", text, StringComparison.Ordinal);
        Assert.EndsWith("\nFailed:\n  b\n1 passed, 1 failed\n", text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("exit 3", "ended with exit code 3")]
    [InlineData("""echo '{"$type":"test-class-cleanup-failure","TestClassName":"K","Messages":["left open"]}'""", "left open")]
    public async Task Suite_that_fails_without_a_failing_test_has_failed(string fault, string said)
    {
        var (code, text) = await RunAsync(Suite("fails", Discovered(1), Started("a"), Passed("a"), Finished, fault));
        Assert.Equal(1, code);
        Assert.Contains(said, text, StringComparison.Ordinal);
        Assert.EndsWith("\n1 passed, 1 failed\n", text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_is_not_there_or_runs_nothing_has_failed()
    {
        Assert.Equal(1, (await RunAsync(Path.Combine(_folder, "nowhere"))).Code);
        Assert.Equal(1, (await RunAsync(Suite("empty", Discovered(0)))).Code);
    }

    [Fact]
    public async Task Fast_leaves_out_what_is_marked_slow_and_what_is_slow_unmarked_is_told()
    {
        var suite = Suite(
            "mixed",
            "[[ \" $* \" == *' -trait- speed=slow '* ]] && echo without the slow ones",
            Discovered(3), Started("a", "\"slow\""), Passed("a", 40), Started("b"), Passed("b", 30), Started("c"),
            """echo '{"$type":"test-skipped","TestUniqueID":"c","Reason":"no instrument"}'""");
        var (code, text) = await RunAsync(suite);
        Assert.Equal(0, code);
        Assert.Contains("skipped c\n  no instrument", text, StringComparison.Ordinal);
        Assert.EndsWith(
            "\nSlow and without the trait speed=slow: 30.0 s b\n2 passed, 0 failed, 1 skipped\n", text, StringComparison.Ordinal);
        Assert.DoesNotContain("without the slow ones", text, StringComparison.Ordinal);
        Assert.Contains("without the slow ones", (await RunAsync("--fast", suite)).Text, StringComparison.Ordinal);
    }

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    private const string Finished = """echo '{"$type":"test-case-finished"}'""";

    private static string Discovered(int cases) => $$"""echo '{"$type":"discovery-complete","TestCasesToRun":{{cases}} }'""";

    private static string Started(string name, string speed = "") =>
        $$$"""
        echo '{"$type":"test-case-starting","TestCaseUniqueID":"case-{{{name}}}","Traits":{"speed":[{{{speed}}}]}}'
        echo '{"$type":"test-starting","TestCaseUniqueID":"case-{{{name}}}","TestUniqueID":"{{{name}}}","TestDisplayName":"{{{name}}}"}'
        """;

    private static string Passed(string name, double seconds = 0.1) => FormattableString.Invariant(
        $$"""echo '{"$type":"test-passed","TestUniqueID":"{{name}}","ExecutionTime":{{seconds}} }'; {{Finished}}""");

    private static string Failed(string name, string message) =>
        $$"""echo '{"$type":"test-failed","TestUniqueID":"{{name}}","ExecutionTime":0.1,"Messages":["{{message}}"]}'; {{Finished}}""";

    private string Suite(string name, params IEnumerable<string> lines)
    {
        var path = Path.Combine(_folder, name);
        File.WriteAllText(path, "#!/usr/bin/env bash\n" + string.Join('\n', lines) + "\n");
        if (!OperatingSystem.IsWindows())
        {
            File.SetUnixFileMode(path, UnixFileMode.UserRead | UnixFileMode.UserExecute);
        }

        return path;
    }

    private static async Task<(int Code, string Text)> RunAsync(params IEnumerable<string> arguments)
    {
        using var process = Process.Start(
            new ProcessStartInfo(Path.Combine(AppContext.BaseDirectory, "TestRun"), arguments) { RedirectStandardOutput = true })!;
        var text = await process.StandardOutput.ReadToEndAsync(Token);
        await process.WaitForExitAsync(Token);
        return (process.ExitCode, text);
    }

    /// <summary>A process that was killed may wait to be collected by whoever has it now.</summary>
    private static bool IsAlive(int id)
    {
        try
        {
            return !File.ReadAllText($"/proc/{id}/stat").Contains(") Z ", StringComparison.Ordinal);
        }
        catch (IOException)
        {
            return false;
        }
    }
}

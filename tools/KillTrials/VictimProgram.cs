using System.Diagnostics;

namespace KillTrials;

/// <summary>One run of the program on a data folder, killed at an instant unless it is done before.</summary>
/// <param name="Code">The exit code; null when it was killed.</param>
/// <param name="Error">What it wrote on standard error, whole lines only.</param>
/// <param name="Took">How long it ran.</param>
internal sealed record VictimProgram(int? Code, IReadOnlyList<string> Error, TimeSpan Took)
{
    private const int KilledCode = 137;

    private static string Program => Path.Combine(AppContext.BaseDirectory, OperatingSystem.IsWindows() ? "acquire.exe" : "acquire");

    public static async Task<VictimProgram> RunAsync(
        string data, KillAt? kill, CancellationToken cancellationToken, params string[] arguments)
    {
        var begun = TimeProvider.System.GetTimestamp();
        using var process = Start(Program, [.. arguments, "--data", data]);
        var output = process.StandardOutput.ReadToEndAsync(cancellationToken);
        using var done = CancellationTokenSource.CreateLinkedTokenSource(cancellationToken);
        var ripe = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        var error = LinesAsync(process.StandardError, kill, ripe, cancellationToken);
        var killing = kill is null ? Task.CompletedTask : KillAsync(process, kill, ripe.Task, done.Token);
        await process.WaitForExitAsync(cancellationToken);
        await done.CancelAsync();
        await killing.ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
        _ = await output;
        return new VictimProgram(
            process.ExitCode == KilledCode ? null : process.ExitCode, await error, TimeProvider.System.GetElapsedTime(begun));
    }

    /// <summary>Starts a program with its streams in our hands.</summary>
    public static Process Start(string file, IEnumerable<string> arguments)
    {
        var start = new ProcessStartInfo(file, arguments)
        {
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            WorkingDirectory = Path.GetTempPath(),
        };
        start.Environment["NO_COLOR"] = "1";
        var process = Process.Start(start)!;
        process.StandardInput.Close();
        return process;
    }

    private static async Task KillAsync(Process process, KillAt kill, Task ripe, CancellationToken done)
    {
        await (kill.Beginning is null ? Task.CompletedTask : ripe.WaitAsync(done));
        await Task.Delay(kill.Then, TimeProvider.System, done);
        process.Kill();
    }

    /// <summary>The lines; a last one that was cut by the kill was shown to nobody.</summary>
    private static async Task<List<string>> LinesAsync(
        StreamReader reader, KillAt? kill, TaskCompletionSource ripe, CancellationToken cancellationToken)
    {
        var (buffer, text, lines, seen) = (new char[4096], "", new List<string>(), 0);
        while (await reader.ReadAsync(buffer, cancellationToken) is > 0 and var count)
        {
            var ended = (text + new string(buffer, 0, count)).Split('\n');
            text = ended[^1];
            lines.AddRange(ended[..^1]);
            seen += kill?.Beginning is { } beginning ? ended[..^1].Count(l => l.StartsWith(beginning, StringComparison.Ordinal)) : 0;
            if (kill is not null && seen >= kill.Times)
            {
                _ = ripe.TrySetResult();
            }
        }

        return lines;
    }
}

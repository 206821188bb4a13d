using System.Diagnostics;

namespace TestRun;

/// <summary>
/// One run of a test program. What hangs is killed with all its children and not asked to end: a command that runs inside the test process
/// would take any other signal as its own, fail an innocent test, and the suite would go on.
/// </summary>
internal sealed class SuiteRun(string program, bool fast, TimeSpan silence, TimeSpan limit, TimeProvider time)
{
    private static readonly TimeSpan Glance = TimeSpan.FromMilliseconds(200);
    private static readonly TimeSpan LastLines = TimeSpan.FromSeconds(5);

    /// <summary>Runs it to its end or to where it hangs; the results come in as they are written.</summary>
    public async Task IntoAsync(SuiteResults results, CancellationToken cancellationToken)
    {
        var arguments = new List<string> { "-noLogo", "-noColor", "-noAutoReporters", "-reporter", "json" };
        arguments.AddRange(fast ? ["-trait-", "speed=slow"] : []);
        var begun = time.GetTimestamp();
        using var process = new Process
        {
            StartInfo = new ProcessStartInfo(program, arguments) { RedirectStandardOutput = true, RedirectStandardInput = true },
        };
        try
        {
            _ = process.Start();
        }
        catch (Exception e) when (e is System.ComponentModel.Win32Exception or InvalidOperationException)
        {
            results.Fail($"did not start: {e.Message}");
            return;
        }

        process.StandardInput.Close();
        var reading = ReadAsync(process.StandardOutput, results);
        var why = await WatchAsync(reading, results, begun, cancellationToken);
        if (why is not null)
        {
            process.Kill(entireProcessTree: true);
        }

        // A child that outlives the program may hold its output open.
        _ = await Task.WhenAny(reading, Task.Delay(LastLines, time, CancellationToken.None));
        await process.WaitForExitAsync(CancellationToken.None);
        results.End(why, process.ExitCode, time.GetElapsedTime(begun));
    }

    /// <summary>Why it is to be killed; null when it ended by itself.</summary>
    private async Task<string?> WatchAsync(Task reading, SuiteResults results, long begun, CancellationToken cancellationToken)
    {
        while (await Task.WhenAny(reading, Task.Delay(Glance, time, CancellationToken.None)) != reading)
        {
            if (cancellationToken.IsCancellationRequested)
            {
                return "Ctrl-C";
            }

            if (results.SinceLastSign > silence)
            {
                return $"no test ended or said anything for {silence.TotalSeconds:0.#} s";
            }

            if (time.GetElapsedTime(begun) > limit)
            {
                return $"it ran for {limit.TotalSeconds:0.#} s";
            }
        }

        return null;
    }

    private static async Task ReadAsync(StreamReader reader, SuiteResults results)
    {
        while (await reader.ReadLineAsync() is { } line)
        {
            results.Take(line);
        }
    }
}

using System.Diagnostics;
using System.Text;

namespace Acquire.EndToEnd.Tests.Support;

/// <summary>A started program with its output collected. Ends the program, by its own id, when disposed.</summary>
internal sealed class RunningProgram : IAsyncDisposable
{
    // Only what hangs takes so long; a busy machine does not.
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(150);

    private readonly Process _process;
    private readonly StringBuilder _out = new();
    private readonly StringBuilder _error = new();
    private bool _disposed;

    private RunningProgram(Process process) => _process = process;

    public string Out => Read(_out);

    public string Error => Read(_error);

    public int Id => _process.Id;

    public static RunningProgram Start(
        string file, IEnumerable<string> arguments, string? workingFolder = null, bool typed = false,
        IReadOnlyDictionary<string, string>? variables = null)
    {
        var start = new ProcessStartInfo(file, arguments)
        {
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            WorkingDirectory = workingFolder ?? Path.GetTempPath(),
        };
        start.Environment["NO_COLOR"] = "1";
        foreach (var (name, value) in variables ?? new Dictionary<string, string>())
        {
            start.Environment[name] = value;
        }

        var running = new RunningProgram(new Process { StartInfo = start });
        running._process.OutputDataReceived += (_, e) => Collect(running._out, e.Data);
        running._process.ErrorDataReceived += (_, e) => Collect(running._error, e.Data);
        running._process.Start();
        if (!typed)
        {
            running._process.StandardInput.Close();
        }

        running._process.BeginOutputReadLine();
        running._process.BeginErrorReadLine();
        return running;
    }

    /// <summary>Writes a line to the standard input of a program that was started to be typed to.</summary>
    public async Task TypeAsync(string line)
    {
        await _process.StandardInput.WriteLineAsync(line);
        await _process.StandardInput.FlushAsync(TestContext.Current.CancellationToken);
    }

    /// <summary>Ends the standard input of a program that was started to be typed to.</summary>
    public void EndInput() => _process.StandardInput.Close();

    /// <summary>Waits for the end and gives the exit code.</summary>
    public async Task<int> ExitAsync()
    {
        using var patience = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
        patience.CancelAfter(Patience);
        try
        {
            await _process.WaitForExitAsync(patience.Token);
            return _process.ExitCode;
        }
        catch (OperationCanceledException)
        {
            throw new TimeoutException($"Still running after {Patience}.\nOut: {Out}\nError: {Error}");
        }
    }

    /// <summary>Sends a signal, as Ctrl-C does, and waits for the end; gives the exit code.</summary>
    public async Task<int> SignalAsync(string signal = "INT")
    {
        await using var kill = Start("kill", ["-" + signal, $"{Id}"]);
        _ = await kill.ExitAsync();
        return await ExitAsync();
    }

    /// <summary>Waits until the standard error holds a text.</summary>
    public Task SaidAsync(string text) => UntilAsync(() => Error.Contains(text, StringComparison.Ordinal), $"'{text}' on standard error");

    /// <summary>Waits until the standard error holds a text so many times.</summary>
    public Task SaidTimesAsync(string text, int times) =>
        UntilAsync(() => Error.Split(text).Length - 1 >= times, $"'{text}' {times} times on standard error");

    /// <summary>Waits until a condition holds.</summary>
    public async Task UntilAsync(Func<bool> condition, string what)
    {
        var begun = TimeProvider.System.GetTimestamp();
        while (!condition())
        {
            // All of its output is there once it has been waited for.
            if (_process.HasExited && await ExitAsync() is var code && !condition())
            {
                throw new InvalidOperationException($"Ended with {code} before {what}.\nOut: {Out}\nError: {Error}");
            }

            if (TimeProvider.System.GetElapsedTime(begun) > Patience)
            {
                throw new TimeoutException($"Waited {Patience} for {what}.\nOut: {Out}\nError: {Error}");
            }

            await Task.Delay(TimeSpan.FromMilliseconds(10), TimeProvider.System, TestContext.Current.CancellationToken);
        }
    }

    public async ValueTask DisposeAsync()
    {
        if (_disposed)
        {
            return;
        }

        _disposed = true;
        if (!_process.HasExited)
        {
            _process.Kill();
            await _process.WaitForExitAsync(CancellationToken.None);
        }

        _process.Dispose();
    }

    private static void Collect(StringBuilder into, string? line)
    {
        if (line is not null)
        {
            lock (into)
            {
                into.Append(line).Append('\n');
            }
        }
    }

    private static string Read(StringBuilder from)
    {
        lock (from)
        {
            return from.ToString();
        }
    }
}

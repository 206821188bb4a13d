using System.Diagnostics;

namespace Benchmarks;

/// <summary>A program that says <c>Listening on URL</c> when it is ready. It is killed at the end.</summary>
internal sealed class Served : IAsyncDisposable
{
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(2);
    private readonly Process _process;

    private Served(Process process, TimeSpan readyAfter) => (_process, ReadyAfter) = (process, readyAfter);

    /// <summary>From the start of the process to its line.</summary>
    public TimeSpan ReadyAfter { get; }

    public Process Process => _process;

    public static string PathOf(string program) =>
        Path.Combine(AppContext.BaseDirectory, OperatingSystem.IsWindows() ? program + ".exe" : program);

    public static Task<Served> ServiceAsync(string dataFolder, CancellationToken cancellationToken) =>
        StartAsync("acquire", ["serve", "--data", dataFolder], cancellationToken);

    /// <exception cref="InvalidOperationException">It ended, or did not get ready.</exception>
    public static async Task<Served> StartAsync(string program, string[] arguments, CancellationToken cancellationToken)
    {
        var started = Stopwatch.GetTimestamp();
        var process = Begin(program, arguments);
        try
        {
            using var patience = CancellationTokenSource.CreateLinkedTokenSource(cancellationToken);
            patience.CancelAfter(Patience);
            while (await process.StandardOutput.ReadLineAsync(patience.Token) is { } line)
            {
                if (line.StartsWith("Listening on ", StringComparison.Ordinal))
                {
                    var ready = Stopwatch.GetElapsedTime(started);
                    _ = process.StandardOutput.ReadToEndAsync(CancellationToken.None);
                    return new Served(process, ready);
                }
            }

            throw new InvalidOperationException(
                $"{program} ended before it listened: {await process.StandardError.ReadToEndAsync(patience.Token)}");
        }
        catch
        {
            process.Kill();
            process.Dispose();
            throw;
        }
    }

    /// <summary>Runs a command of the program to its end.</summary>
    /// <exception cref="InvalidOperationException">It failed.</exception>
    public static async Task DoAsync(string dataFolder, string[] arguments, CancellationToken cancellationToken)
    {
        using var process = Begin("acquire", [.. arguments, "--data", dataFolder]);
        var (said, error) =
            (process.StandardOutput.ReadToEndAsync(cancellationToken), process.StandardError.ReadToEndAsync(cancellationToken));
        await process.WaitForExitAsync(cancellationToken);
        if (process.ExitCode != 0)
        {
            throw new InvalidOperationException(
                $"acquire {string.Join(' ', arguments)} ended with {process.ExitCode}: {await error}{await said}");
        }
    }

    public async ValueTask DisposeAsync()
    {
        _process.Kill();
        await _process.WaitForExitAsync(CancellationToken.None);
        _process.Dispose();
    }

    private static Process Begin(
        string program, IEnumerable<string> arguments) => Process.Start(new ProcessStartInfo(PathOf(program), arguments)
    {
        RedirectStandardInput = true,
        RedirectStandardOutput = true,
        RedirectStandardError = true,
    })!;
}

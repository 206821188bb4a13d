using System.Diagnostics;
using System.Net;
using System.Net.Sockets;
using System.Runtime.InteropServices;
using Acquire.Hosting;

namespace Acquire.Tests.Hosting;

/// <summary>
/// A signal is for the process. A command that stands in other surroundings, as in these tests, must not take it as its own.
/// </summary>
public sealed class ProcessSignalTests
{
    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Command_inside_another_program_goes_on_when_that_gets_a_signal()
    {
        var seen = new TaskCompletionSource();
        using var registration = PosixSignalRegistration.Create(PosixSignal.SIGTERM, context =>
        {
            context.Cancel = true;
            seen.TrySetResult();
        });
        using var program = new InMemory();
        using var server = new TcpListener(IPAddress.Loopback, 0);
        server.Start();
        var listening = program.RunAsync("listen", "--port", $"tcp:{server.LocalEndpoint}", "--give-up", "0");
        using (var instrument = await server.AcceptTcpClientAsync(Token))
        {
            using var kill = Process.Start("kill", ["-TERM", $"{Environment.ProcessId}"]);
            await seen.Task.WaitAsync(Token);
            await kill.WaitForExitAsync(Token);
            await instrument.GetStream().WriteAsync("R 0.25 G 0.67 B 0.98\r\n"u8.ToArray(), Token);
        }

        var (code, text, error) = await listening;
        Assert.Contains("R 0.25 G 0.67 B 0.98", text, StringComparison.Ordinal);
        Assert.True(code == ExitCode.NoInstrument, $"{code} {error}");
    }

    [Fact]
    public void Process_itself_ends_its_command_when_it_is_told_to() =>
        Assert.Equal(TimeSpan.FromSeconds(10), Surroundings.OfProcess().EndsOnSignalWithin);
}

using System.Text;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Links;
using Acquire.Instruments.Simulation;
using Acquire.Instruments.Tests.Profiles;

namespace Acquire.Instruments.Tests.Links;

/// <summary>
/// Real pseudo-terminals that vanish and come back under the same name, as an adapter with a stable name does. Bytes that the system
/// still held when the port vanished were not received, so each round waits for its whole lines before it cuts the next one.
/// </summary>
public sealed class ReplugTests
{
    private const int Rounds = 12;

    [Fact]
    public async Task Pseudo_terminal_unplugged_in_the_middle_of_lines_loses_no_reading_and_doubles_none()
    {
        Assert.SkipUnless(PseudoTerminal.IsSupported, "There are no pseudo-terminals on this system.");
        var folder = Directory.CreateTempSubdirectory("replug-");
        var path = Path.Combine(folder.FullName, "densitometer");
        var opener = new LinkOpener(TimeProvider.System, new LinkOpenerOptions
        {
            LockFolder = Path.Combine(folder.FullName, "locks"),
            PresenceInterval = TimeSpan.FromMilliseconds(50),
        });
        var token = TestContext.Current.CancellationToken;
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(token);
        List<string> sent = [];
        List<InstrumentEvent> read = [];
        var terminal = PseudoTerminal.Open(TimeProvider.System, path);
        try
        {
            var options = new ReconnectOptions { FirstDelay = TimeSpan.FromMilliseconds(20), MaxDelay = TimeSpan.FromMilliseconds(100) };
            await using var link = await ReconnectingLink.OpenAsync(
                opener, terminal.Address, new LinkSettings(), TimeProvider.System, options, null, token);
            var reading = Task.Run(
                async () =>
                {
                    var profile = ShippedProfiles.Get("labelled-line");
                    await foreach (var e in link.ReadAllAsync(
                        (l, t) => InstrumentReader.ReadAllAsync(l, profile, TimeProvider.System, t),
                        _ => ValueTask.CompletedTask, stop.Token))
                    {
                        lock (read)
                        {
                            read.Add(e);
                        }
                    }
                },
                token);
            for (var round = 0; round < Rounds; round++)
            {
                for (var i = 0; i <= round % 4; i++)
                {
                    sent.Add(FormattableString.Invariant($"R 0.{round:00} G 0.{i:00} B 0.80"));
                    await terminal.WriteAsync(Encoding.ASCII.GetBytes(sent[^1] + "\r\n"), token);
                }

                await terminal.WriteAsync("R 1.26 G 1.7"u8.ToArray(), token);
                await UntilAsync(() => Readings(read).Count == sent.Count, reading, token);
                await terminal.DisposeAsync();
                terminal = PseudoTerminal.Open(TimeProvider.System, path);
            }

            await stop.CancelAsync();
            await Assert.ThrowsAnyAsync<OperationCanceledException>(() => reading);
            Assert.Equal(sent, Readings(read));
        }
        finally
        {
            await terminal.DisposeAsync();
            folder.Delete(recursive: true);
        }
    }

    private static List<string> Readings(List<InstrumentEvent> read)
    {
        lock (read)
        {
            return [.. read.OfType<InstrumentEvent.ReadingTaken>().Select(e => e.Line.Text)];
        }
    }

    private static async Task UntilAsync(Func<bool> condition, Task reading, CancellationToken token)
    {
        while (!condition())
        {
            Assert.False(reading.IsCompleted, reading.Exception?.ToString());
            await Task.Delay(TimeSpan.FromMilliseconds(5), TimeProvider.System, token);
        }
    }
}

using Acquire.Instruments.Captures;
using Acquire.Instruments.Links;
using Acquire.Instruments.Monitoring;
using Acquire.Rendering.Monitoring;
using Microsoft.Extensions.Logging;

namespace Acquire.Commands.Instruments;

/// <summary><c>acquire listen</c>: whatever comes over a port, as text and hex, with what it says about the line settings.</summary>
internal static class ListenCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var port = Common.Port();
        var profile = Common.Profile();
        profile.Required = false;
        var line = new LineOptions();
        var capture = new Option<string?>(
            "--capture") { Description = "Write all that comes to this new file, for 'acquire replay'.", HelpName = "FILE" };
        var hex = new Option<bool>("--hex") { Description = "Also show each chunk of bytes in hex, as the system handed it over." };
        var seconds =
            new Option<double?>("--seconds") { Description = "End after so long; on and on until Ctrl-C when not given.", HelpName = "N" };
        var giveUp = GiveUp.Option();
        var command = new Command("listen", "Show what comes over a port: text, hex, timing, line ends, a hint about parity.")
        {
            port, profile, capture, hex, seconds, giveUp,
        };
        line.AddTo(command);
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var address = LinkAddress.Parse(parsed.GetRequiredValue(port));
            var speaks = parsed.GetValue(profile) is { } name ? Common.Profiles(parsed).Find(name) : null;
            var settings = line.Of(parsed, speaks?.Link ?? new LinkSettings());
            var words = LinkWords.Of(settings);
            using var logs = Common.Logs(parsed);
            var links = Common.Links(parsed, surroundings, logs);
            using var recording = parsed.GetValue(capture) is { } path
                ? new RecordingOpener(
                    links, () => CaptureWriter.Create(OutFile.New(path), surroundings.Time, address.ToString(), speaks?.Name, words))
                : null;
            var options = new ReconnectOptions { GiveUpAfter = GiveUp.After(parsed.GetValue(giveUp), surroundings) };
            await using var link = await ReconnectingLink.OpenAsync(
                (ILinkOpener?)recording ?? links,
                address, settings, surroundings.Time, options, logs.CreateLogger<ReconnectingLink>(), cancellationToken);
            surroundings.Error.Line($"Listening at {words}; Ctrl-C ends.");

            using var end = CancellationTokenSource.CreateLinkedTokenSource(cancellationToken);
            using var timeUp = new CancellationTokenSource(
                parsed.GetValue(seconds) is { } limit ? TimeSpan.FromSeconds(limit) : Timeout.InfiniteTimeSpan, surroundings.Time);
            await using var both = timeUp.Token.Register(end.Cancel);
            var monitor = new LineMonitor(speaks, surroundings.Time);
            var printer = new ListenPrinter(surroundings.Out, surroundings.Time, parsed.GetValue(hex), monitor.HasProfile);
            try
            {
                await foreach (var received in link.ReadAllAsync(
                    (l, token) => monitor.ReadAllAsync(l, printer.Chunk, token), Tell, end.Token))
                {
                    printer.Line(received);
                }
            }
            catch (OperationCanceledException)
            {
                // Ctrl-C and the time limit are how listening ends.
            }
            finally
            {
                printer.Summary(monitor);
            }

            return ExitCode.Done;

            ValueTask Tell(LinkState state)
            {
                surroundings.Error.Line(state.Message);
                return ValueTask.CompletedTask;
            }
        });
        return command;
    }
}

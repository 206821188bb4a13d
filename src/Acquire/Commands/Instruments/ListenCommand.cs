using Acquire.Bench.Instruments;
using Acquire.Instruments.Captures;
using Acquire.Instruments.Links;
using Acquire.Instruments.Monitoring;
using Acquire.Instruments.Orders;
using Acquire.Instruments.Profiles;
using Acquire.Rendering.Monitoring;
using Microsoft.Extensions.Logging;

namespace Acquire.Commands.Instruments;

/// <summary><c>acquire listen</c>: whatever comes over a port, as text and hex, with what it says about the line settings.</summary>
internal static class ListenCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var instrument = Given.Option<string?>("--instrument", "NAME", "The instrument, with its port, its rate and its profile.");
        var port = Common.Port();
        var profile = Common.Profile();
        (port.Required, profile.Required) = (false, false);
        var line = new LineOptions();
        var capture = Given.Option<string?>("--capture", "FILE", "Write all that comes to this new file, for 'acquire replay'.");
        var hex = new Option<bool>("--hex") { Description = "Also show each chunk of bytes in hex, as the system handed it over." };
        var trigger = new Option<bool>("--trigger")
        {
            Description = "Send what the profile has after opening, then its trigger; nothing is sent when not given.",
        };
        var seconds = Given.Option<double?>("--seconds", "N", "End after so long; on and on until Ctrl-C when not given.");
        var giveUp = GiveUp.Option();
        var command = new Command("listen", "Show what comes over a port: text, hex, timing, line ends, a hint about parity.")
        {
            instrument, port, profile, capture, hex, trigger, seconds, giveUp,
        };
        line.AddTo(command);
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var choice = new InstrumentChoice(parsed.GetValue(instrument), parsed.GetValue(port), parsed.GetValue(profile));
            var (address, speaks, usual) = await WhatAsync(parsed, choice, surroundings, cancellationToken);
            var told = parsed.GetValue(trigger) ? Triggered(speaks) : null;
            var settings = line.Of(parsed, usual);
            var words = LinkWords.Of(settings);
            using var logs = Common.Logs(parsed);
            var links = Common.Links(parsed, surroundings, logs);
            using var recording = parsed.GetValue(capture) is { } path
                ? new RecordingOpener(
                    links, () => CaptureWriter.Create(OutFile.New(path), surroundings.Time, address.ToString(), speaks?.Name, words))
                : null;
            var opener = (ILinkOpener?)recording ?? links;
            var options = new ReconnectOptions { GiveUpAfter = GiveUp.After(parsed.GetValue(giveUp), surroundings) };
            await using var link = await ReconnectingLink.OpenAsync(
                told is null ? opener : new InstrumentOpener(opener, told, surroundings.Time),
                address,
                settings,
                surroundings.Time,
                options,
                logs.CreateLogger<ReconnectingLink>(),
                cancellationToken);
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

    /// <summary>The profile with its trigger as the last of what is sent after opening: what comes of it is looked at, and waited for by
    /// nobody.</summary>
    private static DeviceProfile Triggered(DeviceProfile? profile) => profile?.Commands is { Trigger: { } trigger } commands
        ? profile with
        {
            Commands = commands with { AfterOpening = commands.AfterOpening.Add(new OpeningCommand(trigger.Bytes, TimeSpan.Zero)) },
        }
        : throw new BenchException("--trigger needs a profile that has a trigger command: --profile NAME.");

    /// <summary>
    /// A port by itself is listened to as it is, with or without a profile; what only an instrument tells is asked of the store.
    /// </summary>
    private static async Task<(LinkAddress Address, DeviceProfile? Speaks, LinkSettings Usual)> WhatAsync(
        ParseResult parsed, InstrumentChoice choice, Surroundings surroundings, CancellationToken cancellationToken)
    {
        if (choice is { Name: null, Port: { } port })
        {
            var speaks = choice.Profile is { } name ? Common.Profiles(parsed).Find(name) : null;
            return (LinkAddress.Parse(port), speaks, speaks?.Link ?? new LinkSettings());
        }

        await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
        var setup = await InstrumentOptions.SetupAsync(parsed, choice, store, surroundings, cancellationToken);
        return (setup.Address, setup.Profile, setup.Settings);
    }
}

/// <summary>Options that set a serial line otherwise than its profile says.</summary>
internal sealed class LineOptions
{
    private readonly Option<int?> _baud = Common.Baud();
    private readonly Option<int?> _dataBits = new("--data-bits") { Description = "7 or 8.", HelpName = "N" };
    private readonly Option<LineParity?> _parity = new("--parity") { Description = "none, even, odd, mark or space.", HelpName = "PARITY" };
    private readonly Option<int?> _stopBits = new("--stop-bits") { Description = "1 or 2.", HelpName = "N" };

    public void AddTo(Command command)
    {
        command.Options.Add(_baud);
        command.Options.Add(_dataBits);
        command.Options.Add(_parity);
        command.Options.Add(_stopBits);
    }

    public LinkSettings Of(ParseResult parsed, LinkSettings usual) => usual with
    {
        Baud = parsed.GetValue(_baud) ?? usual.Baud,
        DataBits = parsed.GetValue(_dataBits) ?? usual.DataBits,
        Parity = parsed.GetValue(_parity) ?? usual.Parity,
        StopBits = parsed.GetValue(_stopBits) ?? usual.StopBits,
    };
}

/// <summary><c>acquire replay</c>: what an instrument once sent, run through framing and profile again.</summary>
internal static class ReplayCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var file = Given.Argument<string>(
            "file", "FILE", "A capture of 'acquire listen --capture', a text file of lines as received, or raw bytes.");
        var profile = Common.Profile();
        var realTime = new Option<bool>("--real-time")
        {
            Description = "With the pauses of the capture; as fast as possible when not given.",
        };
        var all = new Option<bool>("--all")
        {
            Description = "Also the lines that the profile ignores, and each channel of a reading that comes on several lines.",
        };
        var json = Common.Json();
        json.Description = "Write JSON for other programs: one object per reading and line, each on a line of its own.";
        var command = new Command("replay", "Run a capture through a device profile.") { file, profile, realTime, all, json };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var capture = CaptureReader.ReadFile(parsed.GetRequiredValue(file));
            var speaks = Common.Profiles(parsed).Find(parsed.GetRequiredValue(profile));
            var (asJson, showAll) = (parsed.GetValue(json), parsed.GetValue(all));
            var tally = new EventTally();
            DateTimeOffset? first = null;
            if (!asJson)
            {
                surroundings.Out.Line(EventLine.Heading);
            }

            var pace = parsed.GetValue(realTime) ? surroundings.Time : null;
            await foreach (var received in CaptureReplay.ReadAllAsync(capture, speaks, pace, cancellationToken))
            {
                tally.Add(received);
                first ??= received.Line.ReceivedAt;
                if (showAll || received.Meaning is not (LineMeaning.Ignored or LineMeaning.Partial))
                {
                    surroundings.Out.Line(asJson ? EventJson.Of(received) : EventLine.Of(received, received.Line.ReceivedAt - first.Value));
                }
            }

            surroundings.Error.Line(tally.ToString());
            return ExitCode.Done;
        });
        return command;
    }
}

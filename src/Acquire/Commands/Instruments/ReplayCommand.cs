using Acquire.Instruments.Captures;
using Acquire.Rendering.Monitoring;

namespace Acquire.Commands.Instruments;

/// <summary><c>acquire replay</c>: what an instrument once sent, run through framing and profile again.</summary>
internal static class ReplayCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var file = new Argument<string>("file")
        {
            Description = "A capture of 'acquire listen --capture', a text file of lines as received, or raw bytes.",
            HelpName = "FILE",
        };
        var profile = Common.Profile();
        var realTime =
            new Option<bool>("--real-time") { Description = "With the pauses of the capture; as fast as possible when not given." };
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

using Acquire.Instruments.Links;
using Microsoft.Extensions.Logging;
using Acquire.Bench.Trust;
using Acquire.Rendering.Sessions;
using Acquire.Rendering.Trust;
using Acquire.Terminal;

namespace Acquire.Commands.Readings;

/// <summary><c>acquire lot recheck</c>: reads the reference strip again, to see whether the instrument has moved.</summary>
internal static class LotRecheckCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var code = Common.LotCode();
        var port = Common.Port();
        var profile = Common.Profile();
        (port.Required, profile.Required) = (false, false);
        var baud = Common.Baud();
        var reads = Common.Reads(3);
        var by = Common.By();
        var giveUp = GiveUp.Option();
        var noBell = Common.NoBell();
        var json = Common.Json();
        var command = new Command("recheck", "Read the reference strip again and hold it against its first readings; without --port, show what was read. The aims stay.")
        {
            code, port, profile, baud, reads, by, giveUp, noBell, json,
        };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var lotCode = parsed.GetRequiredValue(code);
            var instrument = (parsed.GetValue(port), parsed.GetValue(profile)) switch
            {
                (null, null) => null,
                ({ } at, { } speaks) => Common.Instrument(parsed, at, speaks, parsed.GetValue(baud)),
                _ => throw new BenchException("Give both --port and --profile to read the reference strip again, or neither to show what was read."),
            };
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            using var logs = Common.Logs(parsed);
            var bench = new RecheckBench(
                store, Common.Lots(parsed, store, surroundings), Common.Links(parsed, surroundings, logs), surroundings.Time, logs.CreateLogger<ReconnectingLink>());
            if (instrument is null)
            {
                return Write(surroundings, await bench.ReviewAsync(lotCode, cancellationToken), parsed.GetValue(json));
            }

            await UnfinishedNote.WriteAsync(surroundings, store, SessionPurpose.Recheck, lotCode, cancellationToken);
            using var seat = new TerminalSeat(surroundings, bell: !parsed.GetValue(noBell), cancellationToken);
            var request = Common.Session(parsed, lotCode, instrument, parsed.GetValue(reads), parsed.GetValue(by), parsed.GetValue(giveUp), surroundings);
            var result = await bench.RecheckAsync(request, seat.Seat, cancellationToken);
            if (result.Review is not { } review)
            {
                return SessionReport.Incomplete(surroundings, result.Session);
            }

            SessionReport.Completed(surroundings, result.Session);
            return Write(surroundings, review, parsed.GetValue(json));
        });
        return command;
    }

    private static int Write(Surroundings surroundings, RecheckReview review, bool json)
    {
        RecheckReport.Write(surroundings.Out, review, json);
        return review.Holds ? ExitCode.Done : ExitCode.OutOfControl;
    }
}

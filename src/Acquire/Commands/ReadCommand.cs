using System.CommandLine;
using Acquire.Bench.Strips;
using Acquire.Bench.Trust;
using Acquire.Domain.Processes;
using Acquire.Domain.Sessions;
using Acquire.Hosting;
using Acquire.Instruments.Links;
using Acquire.Rendering;
using Acquire.Terminal;
using Microsoft.Extensions.Logging;

namespace Acquire.Commands;

/// <summary><c>acquire read</c>: a guided reading of one control strip.</summary>
internal static class ReadCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var port = Common.Port();
        var profile = Common.Profile();
        var baud = Common.Baud();
        var reads = Common.Reads(3);
        var by = Common.By();
        var noBell = Common.NoBell();
        var giveUp = GiveUp.Option();
        var json = Common.Json();
        var lot = new Option<string>("--lot") { Description = "Code number of the strip's lot.", HelpName = "CODE", Required = true };
        var line = new Option<string?>("--line") { Description = "The process line the strip ran in.", HelpName = "NAME" };
        var bottle = new Option<string?>("--bottle") { Description = "The bottle of developer the strip ran in.", HelpName = "NAME" };
        var note = new Option<string?>("--note") { Description = "A note to keep with the strip.", HelpName = "TEXT" };
        var require = CheckRequireCommand.Option();
        var command = new Command("read", "Read a control strip, guided patch by patch, and judge it.")
        {
            port, profile, baud, lot, line, bottle, note, reads, require, by, giveUp, noBell, json,
        };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var instrument = Common.Instrument(parsed, parsed.GetRequiredValue(port), parsed.GetRequiredValue(profile), parsed.GetValue(baud));
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            using var logs = Common.Logs(parsed);
            var book = Common.Lots(parsed, store, surroundings);
            var bench = new StripBench(store, book, Common.Links(parsed, surroundings, logs), surroundings.Time, logs.CreateLogger<ReconnectingLink>());
            var request = Common.Session(
                parsed, parsed.GetRequiredValue(lot), instrument, parsed.GetValue(reads), parsed.GetValue(by), parsed.GetValue(giveUp), surroundings);
            TerminalSeat.WarnOfExpiry(surroundings, (await book.GetAsync(request.LotCode, cancellationToken)).Lot);
            await UnfinishedNote.WriteAsync(surroundings, store, SessionPurpose.Strip, request.LotCode, cancellationToken);
            var (tags, warning) = await new CheckGate(store, new CheckBook(store, surroundings.Time)).PassAsync(
                new StripTags(parsed.GetValue(line), parsed.GetValue(bottle), parsed.GetValue(note)),
                CheckRequireCommand.InForce(parsed, require),
                instrument.Profile.Name,
                cancellationToken);
            if (warning is not null)
            {
                surroundings.Error.Line(warning);
            }

            using var seat = new TerminalSeat(surroundings, bell: !parsed.GetValue(noBell), cancellationToken);
            var result = await bench.ReadStripAsync(request, tags, seat.Seat, cancellationToken);
            if (result.Record is not { } record || result.Judgement is not { } judgement)
            {
                return SessionReport.Incomplete(surroundings, result.Session);
            }

            SessionReport.Completed(surroundings, result.Session);
            StripReport.Write(surroundings.Out, record, judgement, surroundings.Time, parsed.GetValue(json));
            return judgement.Overall == Zone.Out ? ExitCode.OutOfControl : ExitCode.Done;
        });
        return command;
    }
}

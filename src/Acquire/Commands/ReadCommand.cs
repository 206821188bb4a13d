using System.CommandLine;
using Acquire.Bench.Strips;
using Acquire.Bench.Trust;
using Acquire.Commands.Books;
using Acquire.Domain.Processes;
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
        var line = new Option<string?>("--line") { Description = "The process line the strip ran in; the one used last in the books when not given.", HelpName = "NAME" };
        var bottle = new Option<string?>("--bottle") { Description = "The bottle of developer the strip ran in; the one used last in the books when not given.", HelpName = "NAME" };
        var ranAt = RanAt();
        var note = new Option<string?>("--note") { Description = "A note to keep with the strip.", HelpName = "TEXT" };
        var require = CheckRequireCommand.Option();
        var command = new Command("read", "Read a control strip, guided patch by patch, and judge it.")
        {
            port, profile, baud, lot, line, bottle, ranAt, note, reads, require, by, giveUp, noBell, json,
        };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var instrument = Common.Instrument(parsed, parsed.GetRequiredValue(port), parsed.GetRequiredValue(profile), parsed.GetValue(baud));
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            using var logs = Common.Logs(parsed);
            var book = Common.Lots(parsed, store, surroundings);
            var bench = new StripBench(store, book, Common.Links(parsed, surroundings, logs), surroundings.Time, logs.CreateLogger<ReconnectingLink>());
            var request = Common.Session(
                parsed.GetRequiredValue(lot), instrument, parsed.GetValue(reads), parsed.GetValue(by), parsed.GetValue(giveUp), surroundings);
            var stripLot = (await book.GetAsync(request.LotCode, cancellationToken)).Lot;
            TerminalSeat.WarnOfExpiry(surroundings, stripLot);
            var books = new StripBooks(store, surroundings);
            var ties = await books.TieAsync(stripLot, parsed.GetValue(line), parsed.GetValue(bottle), parsed.GetValue(ranAt), cancellationToken);
            var (tags, warning) = await new CheckGate(store, new CheckBook(store, surroundings.Time)).PassAsync(
                new StripTags(ties.LineName, ties.BottleName, parsed.GetValue(note)),
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
            var context = await books.EnterAsync(ties, record, cancellationToken);
            StripReport.Write(surroundings.Out, record, judgement, surroundings.Time, parsed.GetValue(json), context);
            return judgement.Overall == Zone.Out ? ExitCode.OutOfControl : ExitCode.Done;
        });
        return command;
    }

    private static Option<string?> RanAt() => new("--ran-at")
    {
        Description = "When the strip ran in the developer, if not about now, such as \"yesterday 21:00\"; the books count by it.",
        HelpName = "TIME",
    };
}

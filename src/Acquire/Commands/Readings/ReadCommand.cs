using Acquire.Bench.Strips;
using Acquire.Bench.Trust;
using Acquire.Commands.Books;
using Acquire.Commands.Strips;
using Acquire.Instruments.Links;
using Acquire.Rendering.Sessions;
using Acquire.Rendering.Strips;
using Acquire.Terminal;
using Microsoft.Extensions.Logging;

namespace Acquire.Commands.Readings;

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
        var about = new StripTagOptions();
        var ranAt = RanAt();
        var require = CheckRequireCommand.Option();
        var command = new Command("read", "Read a control strip, guided patch by patch, and judge it.")
        {
            port, profile, baud, reads, ranAt, require, by, giveUp, noBell, json,
        };
        about.AddTo(command);
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var instrument = Common.Instrument(parsed, parsed.GetRequiredValue(port), parsed.GetRequiredValue(profile), parsed.GetValue(baud));
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            using var logs = Common.Logs(parsed);
            var book = Common.Lots(parsed, store, surroundings);
            var bench = new StripBench(store, book, Common.Links(parsed, surroundings, logs), surroundings.Time, logs.CreateLogger<ReconnectingLink>());
            var (lot, said) = await about.OfAsync(parsed, store, cancellationToken);
            var request = Common.Session(
                parsed, lot, instrument, parsed.GetValue(reads), parsed.GetValue(by), parsed.GetValue(giveUp), surroundings);
            var stripLot = (await book.GetAsync(request.LotCode, cancellationToken)).Lot;
            TerminalSeat.WarnOfExpiry(surroundings, stripLot);
            await UnfinishedNote.WriteAsync(surroundings, store, SessionPurpose.Strip, request.LotCode, cancellationToken);
            var books = new StripBooks(store, surroundings);
            var run = await books.FindAsync(stripLot, said.Tags.Line, said.Tags.Bottle, parsed.GetValue(ranAt), cancellationToken);
            var (strip, warning) = await new CheckGate(store, new CheckBook(store, surroundings.Time)).PassAsync(
                said with { Tags = said.Tags with { Line = run.LineName, Bottle = run.BottleName }, RanAt = books.RanAt },
                CheckRequireCommand.InForce(parsed, require),
                instrument.Profile.Name,
                cancellationToken);
            if (warning is not null)
            {
                surroundings.Error.Line(warning);
            }

            using var seat = new TerminalSeat(surroundings, bell: !parsed.GetValue(noBell), cancellationToken);
            var result = await bench.ReadStripAsync(request, strip, seat.Seat, cancellationToken);
            if (result.Record is not { } record || result.Judgement is not { } judgement)
            {
                return SessionReport.Incomplete(surroundings, result.Session);
            }

            SessionReport.Completed(surroundings, result.Session);
            Common.Warn(surroundings, result.Warnings);
            StripReport.Write(surroundings.Out, record, judgement, surroundings.Time, parsed.GetValue(json), result.Ties, result.Context);
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

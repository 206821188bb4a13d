using Acquire.Instruments.Links;
using Microsoft.Extensions.Logging;
using Acquire.Bench.Trust;
using Acquire.Rendering.Sessions;
using Acquire.Rendering.Trust;
using Acquire.Storage.Import;
using Acquire.Terminal;

namespace Acquire.Commands.Readings;

/// <summary><c>acquire check</c>: a calibration check of the instrument with a plaque.</summary>
internal static class CheckCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var plaque = new Option<string?>("--plaque") { Description = "The plaque: a name that 'acquire plaque list' shows.", HelpName = "NAME" };
        var from = new Option<string?>("--from") { Description = "Take the readings from a CSV file instead: patch,read,red,green,blue or patch,read,visual; with --profile they are of that instrument, else of any.", HelpName = "FILE" };
        var port = Common.Port();
        var profile = Common.Profile();
        (port.Required, profile.Required) = (false, false);
        var baud = Common.Baud();
        var reads = Common.Reads(3);
        var by = Common.By();
        var giveUp = GiveUp.Option();
        var noBell = Common.NoBell();
        var json = Common.Json();
        var command = new Command("check", "Check the instrument against a plaque with certified densities.")
        {
            plaque, from, port, profile, baud, reads, by, giveUp, noBell, json, BuildList(surroundings), CheckRequireCommand.Build(surroundings),
        };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var name = parsed.GetValue(plaque) ?? throw new BenchException("Name the plaque: --plaque NAME. 'acquire plaque list' shows those there are.");
            var person = parsed.GetValue(by) ?? surroundings.User;
            var instrument = (parsed.GetValue(from), parsed.GetValue(port), parsed.GetValue(profile)) switch
            {
                ({ }, null, _) => null,
                (null, { } at, { } speaks) => Common.Instrument(parsed, at, speaks, parsed.GetValue(baud)),
                _ => throw new BenchException("Give either --port and --profile to read the plaque, or --from FILE with readings of it, and --profile where their instrument is known."),
            };
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            var book = new CheckBook(store, surroundings.Time);
            if (instrument is null)
            {
                var file = parsed.GetValue(from)!;
                var of = parsed.GetValue(profile) is { } known ? Common.InstrumentOfFile(parsed, known, file) : null;
                var imported = await ReadsCsv.ReadAsync(file, cancellationToken).ToListAsync(cancellationToken);
                return Judged(surroundings, await book.EnterAsync(name, imported, of, person, cancellationToken), parsed.GetValue(json));
            }

            await UnfinishedNote.WriteAsync(surroundings, store, SessionPurpose.Check, name, cancellationToken);
            using var logs = Common.Logs(parsed);
            var bench = new CheckBench(store, book, Common.Links(parsed, surroundings, logs), surroundings.Time, logs.CreateLogger<ReconnectingLink>());
            using var seat = new TerminalSeat(surroundings, bell: !parsed.GetValue(noBell), cancellationToken);
            var request = Common.Session(parsed, "", instrument, parsed.GetValue(reads), person, parsed.GetValue(giveUp), surroundings);
            var result = await bench.CheckAsync(request, name, seat.Seat, cancellationToken);
            if (result.Judged is not { } judged)
            {
                return SessionReport.Incomplete(surroundings, result.Session);
            }

            SessionReport.Completed(surroundings, result.Session);
            return Judged(surroundings, judged, parsed.GetValue(json));
        });
        return command;
    }

    private static int Judged(Surroundings surroundings, JudgedCheck judged, bool json)
    {
        CheckReport.Write(surroundings.Out, judged, surroundings.Time, json);
        return judged.Check.Passed ? ExitCode.Done : ExitCode.OutOfControl;
    }

    private static Command BuildList(Surroundings surroundings)
    {
        var json = Common.Json();
        var command = new Command("list", "List the calibration checks.") { json };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            var checks = await new CheckBook(store, surroundings.Time).ListAsync(cancellationToken);
            CheckReport.WriteList(surroundings.Out, checks, surroundings.Time, parsed.GetValue(json));
            return ExitCode.Done;
        });
        return command;
    }
}

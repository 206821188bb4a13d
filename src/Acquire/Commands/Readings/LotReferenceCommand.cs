using Acquire.Bench.Strips;
using Acquire.Instruments.Links;
using Acquire.Rendering.Lots;
using Acquire.Rendering.Sessions;
using Acquire.Terminal;
using Microsoft.Extensions.Logging;

namespace Acquire.Commands.Readings;

/// <summary><c>acquire lot reference</c>: reads the maker's reference strip from the instrument, or takes values that a person entered.</summary>
internal static class LotReferenceCommand
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
        var noBell = Common.NoBell();
        var giveUp = GiveUp.Option();
        var json = Common.Json();
        var value = new Option<string[]>("--value")
        {
            Description = "Enter the densities of one patch instead of reading them; once per patch, e.g. \"ld 0.46 0.84 1.04\".",
            HelpName = "\"PATCH R G B\"",
        };
        var reason = new Option<string>("--reason")
        {
            Description = "Why the reference is read; kept with it.",
            HelpName = "TEXT",
            DefaultValueFactory = _ => "reference strip read",
        };
        var command = new Command("reference", "Read the reference strip of a lot, or enter its densities; the aims follow from it.")
        {
            code, port, profile, baud, value, reads, reason, by, giveUp, noBell, json,
        };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var entered = parsed.GetValue(value) ?? [];
            var person = parsed.GetValue(by) ?? surroundings.User;
            var lotCode = parsed.GetRequiredValue(code);
            var why = parsed.GetRequiredValue(reason);
            var instrument = (entered.Length, parsed.GetValue(port), parsed.GetValue(profile)) switch
            {
                ( > 0, null, null) => null,
                (0, { } at, { } speaks) => Common.Instrument(parsed, at, speaks, parsed.GetValue(baud)),
                _ => throw new BenchException("Give either --port and --profile to read the strip, or --value once per patch to enter it."),
            };
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            var book = Common.Lots(parsed, store, surroundings);
            var (lot, sheet, _) = await book.GetAsync(lotCode, cancellationToken);
            if (instrument is null)
            {
                var typed = await book.EnterReferenceAsync(
                    lot.Code, [.. entered.Select(e => PatchValues.Densities(e, lot.Layout, sheet))], person, why, cancellationToken);
                LotReport.WriteOne(surroundings.Out, lot, typed, (await book.GetAsync(lot.Code, cancellationToken)).InForce.Aims, null, surroundings.Time, parsed.GetValue(json));
                return ExitCode.Done;
            }

            TerminalSeat.WarnOfExpiry(surroundings, lot);
            await UnfinishedNote.WriteAsync(surroundings, store, SessionPurpose.Reference, lot.Code, cancellationToken);
            using var logs = Common.Logs(parsed);
            var bench = new StripBench(store, book, Common.Links(parsed, surroundings, logs), surroundings.Time, logs.CreateLogger<ReconnectingLink>());
            using var seat = new TerminalSeat(surroundings, bell: !parsed.GetValue(noBell), cancellationToken);
            var request = Common.Session(parsed, lot.Code, instrument, parsed.GetValue(reads), person, parsed.GetValue(giveUp), surroundings);
            var result = await bench.ReadReferenceAsync(request, why, seat.Seat, cancellationToken);
            if (result.Reference is null)
            {
                return SessionReport.Incomplete(surroundings, result.Session);
            }

            SessionReport.Completed(surroundings, result.Session);
            LotReport.WriteOne(
                surroundings.Out, lot, result.Reference, result.Aims, result.Repeatability, surroundings.Time, parsed.GetValue(json));
            return ExitCode.Done;
        });
        return command;
    }
}

using Acquire.Commands.Books;
using Acquire.Commands.Readings;
using Acquire.Rendering.Lots;
using Acquire.Rendering.Processes;

namespace Acquire.Commands.Lots;

/// <summary><c>acquire lot</c>: strips of one code number, their reference and aims.</summary>
internal static class LotCommand
{
    public static Command Build(Surroundings surroundings) =>
        new("lot", "Strip lots: code number, correction factors, expiry, reference and aims.")
        {
            BuildAdd(surroundings),
            LotReferenceCommand.Build(surroundings),
            LotRecheckCommand.Build(surroundings),
            StockCommand.Build(surroundings),
            LotCrossoverCommand.Build(surroundings),
            LotBaselineCommand.Build(surroundings),
            BuildList(surroundings),
            BuildShow(surroundings),
        };

    private static Command BuildAdd(Surroundings surroundings)
    {
        var code = Common.LotCode();
        var process =
            new Option<string>("--process") { Description = "Key of the process sheet, such as c41.", HelpName = "KEY", Required = true };
        var layout = new Option<string?>("--layout")
        {
            Description = "Key of the strip layout, where the process sheet has several; the first when not given.",
            HelpName = "KEY",
        };
        var expires = new Option<string?>("--expires") { Description = "Last day of the strips.", HelpName = "YYYY-MM-DD" };
        var factor = new Option<string[]>("--factor")
        {
            Description =
                "Correction factors of one patch from the sheet in the box, with signs; once per patch, e.g. \"ld +0.01 -0.02 0\".",
            HelpName = "\"PATCH R G B\"",
        };
        var storage =
            new Option<string?>("--storage") { Description = "How the sheet in the box says to store the strips.", HelpName = "TEXT" };
        var note = new Option<string?>("--note") { Description = "A note to keep with the lot.", HelpName = "TEXT" };
        var command = new Command("add", "Add a strip lot.") { code, process, layout, expires, factor, storage, note };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var sheet = Common.Processes(parsed).Get(parsed.GetRequiredValue(process));
            var strips = parsed.GetValue(layout) is { } named ? sheet.GetLayout(named) : sheet.Layouts[0];
            var lot = new StripLot(
                parsed.GetRequiredValue(code),
                sheet.Key,
                strips.Strip,
                [.. (parsed.GetValue(factor) ?? []).SelectMany(f => PatchValues.Factors(f, strips.Strip, sheet))],
                parsed.GetValue(expires) is { } day ? DayText.Day(day) : null,
                parsed.GetValue(storage),
                parsed.GetValue(note));
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            await store.AddLotAsync(lot, cancellationToken);
            if (strips != sheet.Layouts[0] && ProcessNotes.NotOn(sheet, strips) is { } lacking)
            {
                surroundings.Error.Line(lacking);
            }

            surroundings.Out.Line(
                $"Lot {lot.Code} added. Next, read its reference strip: acquire lot reference {lot.Code} --port PORT --profile PROFILE");
            return ExitCode.Done;
        });
        return command;
    }

    private static Command BuildList(Surroundings surroundings)
    {
        var json = Common.Json();
        var command = new Command("list", "List the strip lots.") { json };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            var lots = new List<(StripLot, LotReference?)>();
            foreach (var lot in await store.ListLotsAsync(cancellationToken))
            {
                lots.Add((lot, await store.CurrentReferenceAsync(lot.Code, cancellationToken)));
            }

            LotReport.WriteList(surroundings.Out, lots, surroundings.Time, parsed.GetValue(json));
            return ExitCode.Done;
        });
        return command;
    }

    private static Command BuildShow(Surroundings surroundings)
    {
        var code = Common.LotCode();
        var json = Common.Json();
        var command = new Command("show", "Show a strip lot and its aims.") { code, json };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            var entry = await Common.Lots(parsed, store, surroundings).GetAsync(parsed.GetRequiredValue(code), cancellationToken);
            LotReport.WriteOne(
                surroundings.Out,
                entry.Lot, entry.Reference, entry.InForce.Aims, entry.InForce.Repeatability, surroundings.Time, parsed.GetValue(json));
            return ExitCode.Done;
        });
        return command;
    }
}

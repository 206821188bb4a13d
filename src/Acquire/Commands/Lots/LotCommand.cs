using Acquire.Bench.Lots;
using Acquire.Commands.Books;
using Acquire.Rendering.Lots;

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
        var process = Common.Process();
        var layout = Given.Option<string?>(
            "--layout", "KEY", "Key of the strip layout, where the process sheet has several; the first when not given.");
        var expires = new Option<string?>("--expires") { Description = "Last day of the strips.", HelpName = "YYYY-MM-DD" };
        var factor = Given.Option<string[]>(
            "--factor", "\"PATCH R G B\"", "Correction factors of one patch from the sheet in the box, with signs; once per patch, e.g. "
                + "\"ld +0.01 -0.02 0\".");
        var storage = Given.Option<string?>("--storage", "TEXT", "How the sheet in the box says to store the strips.");
        var note = new Option<string?>("--note") { Description = "A note to keep with the lot.", HelpName = "TEXT" };
        var command = new Command("add", "Add a strip lot.") { code, process, layout, expires, factor, storage, note };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var request = new LotRequest(parsed.GetRequiredValue(code), parsed.GetRequiredValue(process))
            {
                Layout = parsed.GetValue(layout),
                Factors = [.. parsed.GetValue(factor) ?? []],
                Expires = parsed.GetValue(expires) is { } day ? GivenDay.Of(day) : null,
                StorageRule = parsed.GetValue(storage),
                Note = parsed.GetValue(note),
            };
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            var (lot, lacking) = await Common.Lots(parsed, store, surroundings).AddAsync(request, cancellationToken);
            if (lacking is not null)
            {
                surroundings.Error.Line(lacking);
            }

            surroundings.Out.Line(
                $"Lot {lot.Code} added. Next, read its reference strip: acquire lot reference {lot.Code} --instrument NAME");
            return ExitCode.Done;
        });
        return command;
    }

    private static Command BuildList(Surroundings surroundings) => Common.Shows(
        new Command("list", "List the strip lots."),
        surroundings,
        (parsed, store, cancellationToken) => Common.Lots(parsed, store, surroundings).ListAsync(cancellationToken),
        LotReport.WriteList);

    private static Command BuildShow(Surroundings surroundings)
    {
        var code = Common.LotCode();
        return Common.Shows(
            new Command("show", "Show a strip lot and its aims.") { code },
            surroundings,
            (parsed, store, cancellationToken) =>
                Common.Lots(parsed, store, surroundings).GetAsync(parsed.GetRequiredValue(code), cancellationToken),
            LotReport.WriteOne);
    }
}

/// <summary><c>acquire lot baseline</c>: a reference of the user's own five strips, where the maker gives none.</summary>
internal static class LotBaselineCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var code = Common.LotCode();
        var strips = Given.Option<string?>("--strips", "ID,…", "The strips to average; the last five read with --baseline when not given.");
        var by = Common.By();
        var json = Common.Json();
        var command = new Command(
            "baseline", "Make the reference of a lot from five own strips, one of each of five days, where the maker gives none.")
        {
            code, strips, by, json,
        };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var ids = (parsed.GetValue(strips) ?? "").Split(',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            var made = await new LotBaseline(store, Common.Lots(parsed, store, surroundings), surroundings.Time)
                .MakeAsync(parsed.GetRequiredValue(code), [.. ids], parsed.GetValue(by) ?? surroundings.User, cancellationToken);
            if (made.Warning is { } warning)
            {
                surroundings.Error.Line(warning);
            }

            LotReport.WriteOne(surroundings.Out, made.Entry, surroundings.Time, parsed.GetValue(json));
            return ExitCode.Done;
        });
        return command;
    }
}

/// <summary><c>acquire lot crossover</c>: the change to a new code number.</summary>
internal static class LotCrossoverCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var old = new Argument<string>("old") { Description = "Code number of the old lot.", HelpName = "OLD" };
        var young = new Argument<string>("new") { Description = "Code number of the new lot.", HelpName = "NEW" };
        var pairs = Given.Option<string?>(
            "--pairs", "OLD:NEW,…", "Strips that were processed together, beside those read with --pair: the old lot's first, e.g. "
                + "3f2a:9c41,77b0:12de.");
        var accept = new Option<bool>("--accept") { Description = "Adjust the new lot's aims as proposed, for strips read from now on." };
        var reason = new Option<string?>("--reason") { Description = "Why it is accepted; kept with it.", HelpName = "WHY" };
        var by = Common.By();
        var command = new Command(
            "crossover",
            "Compare strips of the old and the new lot that were processed together, and propose aims. Nothing changes without --accept.")
        {
            old, young, pairs, accept, reason, by,
        };
        return Common.Shows(
            command,
            surroundings,
            (parsed, store, cancellationToken) =>
            {
                var why = parsed.GetValue(reason);
                if (parsed.GetValue(accept) != why is not null)
                {
                    throw new BenchException("--accept and --reason go together: an adjusted aim is kept with why it was adjusted.");
                }

                var request = new CrossoverRequest(
                    parsed.GetRequiredValue(old),
                    parsed.GetRequiredValue(young),
                    [.. Pairs(parsed.GetValue(pairs))],
                    parsed.GetValue(by) ?? surroundings.User,
                    why);
                return new LotCrossover(store, Common.Lots(parsed, store, surroundings), surroundings.Time)
                    .RunAsync(request, cancellationToken);
            },
            CrossoverReport.Write);
    }

    private static IEnumerable<(string Old, string New)> Pairs(string? text) =>
        (text ?? "").Split(',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries)
            .Select(p => p.Split(':', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries) is [var one, var other]
                ? (one, other)
                : throw new BenchException(
                    $"Cannot read the pair '{p}': expected the strip of the old lot, a colon, and that of the new lot, "
                    + "such as 3f2a:9c41."));
}

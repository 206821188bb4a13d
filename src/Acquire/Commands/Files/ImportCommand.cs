using Acquire.Bench.Import;
using Acquire.Formats.Tables;
using Acquire.Rendering.Imports;

namespace Acquire.Commands.Files;

/// <summary><c>acquire import</c>: strips from files, all of a file or nothing.</summary>
internal static class ImportCommand
{
    public static Command Build(Surroundings surroundings) =>
        new("import", "Take strips from old spreadsheets, from exports and from CGATS files.")
        {
            BuildStrips(surroundings),
            ImportMapCommand.Build(surroundings),
        };

    private static Command BuildStrips(Surroundings surroundings)
    {
        var file =
            new Argument<string>("file") { Description = "A CSV file, JSON Lines, or CGATS.17 / ISO 28178 text.", HelpName = "FILE" };
        var map = new Option<string?>("--map")
        {
            Description = "The column map of a CSV file; 'acquire import map new' makes one.",
            HelpName = "MAP",
        };
        var dryRun = new Option<bool>("--dry-run")
        {
            Description = "Write nothing; show what would be added, what is there already, and what contradicts.",
        };
        var dates = new Option<string?>("--dates") { Description = "Order of the numbers in dates: dmy, mdy or ymd.", HelpName = "ORDER" };
        dates.AcceptOnlyFromAmong("dmy", "mdy", "ymd");
        var constants = ImportRequest.ConstantNames.ToDictionary(name => name, name => new Option<string?>("--" + name)
        {
            Description = name == "process" ? "The process of lots that are added, such as c41." : $"The {name} of all strips of the file.",
            HelpName = name == "lot" ? "CODE" : "TEXT",
        });
        var at = new Option<string?>("--processed-at")
        {
            Description = "When the strips were processed, for a CGATS file that does not say.",
            HelpName = "YYYY-MM-DD[THH:MM]",
        };
        var addLots = new Option<bool>("--add-lots")
        {
            Description = "Add lots that the store lacks, without a reference: their strips show no deviation.",
        };
        var skip = new Option<bool>("--skip-conflicts")
        {
            Description = "Leave strips that are stored with other values as they are, and import the rest.",
        };
        var by = new Option<string?>("--by") { Description = "Who imports; the user of this computer when not given.", HelpName = "NAME" };
        var json = Common.Json();
        var command = new Command("strips", "Take strips from a file: all of it, or nothing. The same file a second time changes nothing.")
        {
            file, map, dryRun, dates, at, addLots, skip, by, json,
        };
        foreach (var option in constants.Values)
        {
            command.Options.Add(option);
        }

        command.SetAction(async (parsed, cancellationToken) =>
        {
            var request = new ImportRequest(parsed.GetRequiredValue(file), parsed.GetValue(by) ?? surroundings.User)
            {
                Map = parsed.GetValue(map),
                Dates = parsed.GetValue(dates) is { } order ? Enum.Parse<DateStyle>(order, ignoreCase: true) : null,
                Constants =
                    constants.Where(c => parsed.GetValue(c.Value) is not null).ToDictionary(c => c.Key, c => parsed.GetValue(c.Value)!),
                ProcessedAt = parsed.GetValue(at) is { } moment ? GivenDay.Moment(moment, surroundings.Time.LocalTimeZone) : null,
                AddLots = parsed.GetValue(addLots),
                DryRun = parsed.GetValue(dryRun),
                SkipConflicts = parsed.GetValue(skip),
            };
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            var printer = new ImportPrinter(surroundings, request.DryRun && !parsed.GetValue(json));
            var report =
                await new StripImporter(store, Common.Processes(parsed), surroundings.Time).RunAsync(request, printer, cancellationToken);
            printer.Finish(report, parsed.GetValue(json));
            return report.IsRefused ? ExitCode.BadInput : ExitCode.Done;
        });
        return command;
    }
}

/// <summary><c>acquire import map</c>: which column of an old spreadsheet is which.</summary>
internal static class ImportMapCommand
{
    public static Command Build(Surroundings surroundings) => new("map", "Column maps for old spreadsheets.") { BuildNew(surroundings) };

    private static Command BuildNew(Surroundings surroundings)
    {
        var from =
            new Option<string>("--from") { Description = "The CSV file to read the heading of.", HelpName = "FILE", Required = true };
        var output = new Option<string>("--out")
        {
            Description = "The map to write; one that is there is replaced only with --force.", HelpName = "MAP", Required = true,
        };
        var process = new Option<string>("--process")
        {
            Description = "The process whose patches the headings name.",
            HelpName = "KEY",
            DefaultValueFactory = _ => "c41",
        };
        var command = new Command("new", "Propose a map from the heading of a file; look at it before you import with it.")
        {
            from, output, OutFile.Force, process,
        };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var (file, target) = (parsed.GetRequiredValue(from), parsed.GetRequiredValue(output));
            var made = OutFile.At(parsed, target);
            var sheet = Common.Processes(parsed).Get(parsed.GetRequiredValue(process));
            var proposed = await MapProposal.OfAsync(file, sheet.Layout, cancellationToken);
            await made.WriteAsync(ColumnMapFile.Write(proposed.Map), cancellationToken);
            MapReport.Write(surroundings, proposed, target);
            surroundings.Error.Line($"Next: acquire import strips {file} --map {target} --dry-run");
            return ExitCode.Done;
        });
        return command;
    }
}

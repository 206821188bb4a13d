using Acquire.Formats.Tables;

namespace Acquire.Commands.Files;

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
            var (map, unknown, _) = await MapProposal.OfAsync(file, sheet.Layout, cancellationToken);
            await made.WriteAsync(ColumnMapFile.Write(map), cancellationToken);
            surroundings.Out.Line($"{target}: a row per {(map.Rows == RowKind.Strip ? "strip" : "patch")}.");
            foreach (var (role, column) in map.Columns)
            {
                surroundings.Out.Line($"  {role,-14} '{column}'");
            }

            foreach (var density in map.Densities)
            {
                surroundings.Out.Line($"  {density.Patch + " " + density.Channel.ToString().ToLowerInvariant(),-14} "
                    + $"'{density.Column}'{(density.Read > 1 ? $", read {density.Read}" : "")}");
            }

            foreach (var column in unknown)
            {
                surroundings.Out.Line($"  {"passed over",-14} '{column}'");
            }

            foreach (var lack in Lacking(map))
            {
                surroundings.Error.Line(lack);
            }

            surroundings.Error.Line($"Next: acquire import strips {file} --map {target} --dry-run");
            return ExitCode.Done;
        });
        return command;
    }

    private static IEnumerable<string> Lacking(ColumnMap map)
    {
        if (!map.Columns.ContainsKey("processed_at"))
        {
            yield return "No column looks like a date. Name it in the map: \"columns\": { \"processed_at\": \"…\" }";
        }

        if (!map.Columns.ContainsKey("lot"))
        {
            yield return "No column looks like the lot. Name it in the map, or write \"constants\": { \"lot\": \"2417\" }, or give --lot.";
        }

        if (map is { Rows: RowKind.Patch } && !map.Columns.ContainsKey("patch"))
        {
            yield return "No column looks like a patch, and no heading like a patch with a channel (\"LD R\"). Write \"rows\": "
                + "\"strip\" with \"densities\", or name the patch column.";
        }
    }
}

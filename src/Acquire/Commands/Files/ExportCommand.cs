using Acquire.Bench.Export;

namespace Acquire.Commands.Files;

/// <summary>
/// <c>acquire export</c>: results to reckon with elsewhere. <c>acquire export strips</c>: the records, in forms that an import takes back,
/// and as a workbook.
/// </summary>
internal static class ExportCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var output = Out();
        output.DefaultValueFactory = _ => "-";
        var format = Format("csv or jsonl; by the file's ending when not given, else csv.", "csv", "jsonl");
        var command = new Command("export", "Write strips with reads, means, aims, deviations and zones.")
        {
            output, OutFile.Force, format, BuildStrips(surroundings),
        };
        return Exports(command, surroundings, output, format, word => word == "jsonl" ? ExportForm.Records : ExportForm.Results);
    }

    private static Command BuildStrips(Surroundings surroundings)
    {
        var output = Out();
        output.Required = true;
        var format = Format(
            "csv (a row per read), jsonl (whole records), cgats (CGATS.17 text) or xlsx (a workbook); by the file's ending when not given.",
            "csv", "jsonl", "cgats", "xlsx");
        var revisions = new Option<bool>("--revisions") { Description = "With jsonl: every revision of each strip, not only the newest." };
        var command = new Command(
            "strips", "Write strips so that 'import strips' can take them back (csv, jsonl, cgats), or as a workbook (xlsx).")
        {
            output, OutFile.Force, format, revisions,
        };
        return Exports(command, surroundings, output, format, ExportForms.OfStrips, revisions);
    }

    private static Option<string> Out() => new("--out")
    {
        Description = "The file to write; one that is there is replaced only with --force. - is standard output.",
        HelpName = "FILE",
    };

    private static Option<string?> Format(string description, params string[] words)
    {
        var format = new Option<string?>("--format") { Description = description, HelpName = "FORMAT" };
        format.AcceptOnlyFromAmong(words);
        return format;
    }

    /// <param name="formOf">The form that a word for a format or an ending of a file stands for.</param>
    private static Command Exports(
        Command command,
        Surroundings surroundings,
        Option<string> output,
        Option<string?> format,
        Func<string, ExportForm> formOf,
        Option<bool>? revisions = null)
    {
        var filter = new StripFilterOptions();
        filter.AddTo(command);
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var path = parsed.GetRequiredValue(output);
            var form = formOf(parsed.GetValue(format) ?? Path.GetExtension(path).TrimStart('.').ToLowerInvariant());
            var asked = new ExportAsked(filter.Of(parsed, surroundings.Time).Strips, form)
            {
                Revisions = revisions is not null && parsed.GetValue(revisions),
            };
            var file = path == "-" ? null : OutFile.At(parsed, path);
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            var desk = new ExportDesk(store, surroundings.Time);
            if (file is null)
            {
                await using var standard = Console.OpenStandardOutput();
                _ = await desk.WriteAsync(asked, standard, cancellationToken);
                return ExitCode.Done;
            }

            var count = 0;
            await file.WriteAsync(async (stream, token) => count = await desk.WriteAsync(asked, stream, token), cancellationToken);
            surroundings.Error.Line($"{Numbers.Count(count, "strip")} written to {path}.");
            return ExitCode.Done;
        });
        return command;
    }
}

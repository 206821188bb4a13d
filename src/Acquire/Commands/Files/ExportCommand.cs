using Acquire.Bench.Strips;
using Acquire.Formats.Strips;
using Acquire.Formats.Workbooks;
using Acquire.Storage.Records;

namespace Acquire.Commands.Files;

/// <summary><c>acquire export</c>: strips as CSV or JSON Lines.</summary>
internal static class ExportCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var filter = new StripFilterOptions();
        var output = new Option<string>("--out")
        {
            Description = "The file to write; one that is there is replaced only with --force. - is standard output.",
            HelpName = "FILE",
            DefaultValueFactory = _ => "-",
        };
        var format = new Option<string?>("--format")
        {
            Description = "csv or jsonl; by the file's ending when not given, else csv.",
            HelpName = "FORMAT",
        };
        format.AcceptOnlyFromAmong("csv", "jsonl");
        var command = new Command("export", "Write strips with reads, means, aims, deviations and zones.")
        {
            output, OutFile.Force, format, ExportStripsCommand.Build(surroundings),
        };
        filter.AddTo(command);
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var path = parsed.GetRequiredValue(output);
            var file = path == "-" ? null : OutFile.At(parsed, path);
            var asLines = (parsed.GetValue(format) ?? Path.GetExtension(path).TrimStart('.').ToLowerInvariant()) is "jsonl";
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            var count = 0;
            var strips = store.ListStripsAsync(filter.Of(parsed, surroundings.Time).Strips, cancellationToken).Select(s =>
            {
                count++;
                return StripExports.Of(s);
            });
            Func<Stream, CancellationToken, Task> write = asLines
                ? (stream, token) => StripJsonLines.WriteAsync(strips, stream, token)
                : (stream, token) => StripCsv.WriteAsync(strips, stream, token);
            await ExportStripsCommand.WriteAsync(file, write, cancellationToken);
            if (path != "-")
            {
                surroundings.Error.Line($"{Numbers.Count(count, "strip")} written to {path}.");
            }

            return ExitCode.Done;
        });
        return command;
    }
}

/// <summary><c>acquire export strips</c>: the records, in forms that an import takes back, and as a workbook.</summary>
internal static class ExportStripsCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var filter = new StripFilterOptions();
        var output = new Option<string>("--out")
        {
            Description = "The file to write; one that is there is replaced only with --force. - is standard output.",
            HelpName = "FILE",
            Required = true,
        };
        var format = new Option<string?>("--format")
        {
            Description =
                "csv (a row per read), jsonl (whole records), cgats (CGATS.17 text) or xlsx (a workbook); "
                + "by the file's ending when not given.",
            HelpName = "FORMAT",
        };
        format.AcceptOnlyFromAmong("csv", "jsonl", "cgats", "xlsx");
        var revisions = new Option<bool>("--revisions") { Description = "With jsonl: every revision of each strip, not only the newest." };
        var command = new Command(
            "strips", "Write strips so that 'import strips' can take them back (csv, jsonl, cgats), or as a workbook (xlsx).")
        {
            output, OutFile.Force, format, revisions,
        };
        filter.AddTo(command);
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var path = parsed.GetRequiredValue(output);
            var kind = parsed.GetValue(format) ?? Ending(path);
            var file = path == "-" ? null : OutFile.At(parsed, path);
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            var count = 0;
            var strips = Records(store, filter.Of(parsed, surroundings.Time).Strips, parsed.GetValue(revisions) && kind == "jsonl", cancellationToken).Select(s =>
            {
                count++;
                return s;
            });
            await WriteAsync(file, Writer(kind, strips, surroundings), cancellationToken);
            if (path != "-")
            {
                surroundings.Error.Line(
                    $"{Numbers.Count(kind == "xlsx" ? count / StripWorkbook.Passes : count, "strip")} written to {path}.");
            }

            return ExitCode.Done;
        });
        return command;
    }

    /// <summary>Writes to a file, whole or not at all, or to standard output.</summary>
    public static async Task WriteAsync(WholeFile? file, Func<Stream, CancellationToken, Task> write, CancellationToken cancellationToken)
    {
        if (file is null)
        {
            await using var standard = Console.OpenStandardOutput();
            await write(standard, cancellationToken);
            return;
        }

        await file.WriteAsync(write, cancellationToken);
    }

    private static Func<Stream, CancellationToken, Task> Writer(
        string kind, IAsyncEnumerable<StripRecord> strips, Surroundings surroundings) => kind switch
    {
        "jsonl" => (stream, token) => StripJsonLines.WriteAsync(strips.Select(StripExports.Of), stream, token),
        "xlsx" =>
            (stream, token) => StripWorkbook.WriteAsync(strips.Select(StripExports.Of), surroundings.Time.LocalTimeZone, stream, token),
        "cgats" => (stream, token) => StripCgats.WriteAsync(strips, stream, token),
        _ => (stream, token) => StripReadsCsv.WriteAsync(strips, stream, token),
    };

    private static IAsyncEnumerable<StripRecord> Records(
        AcquireStore store, StripFilter filter, bool revisions, CancellationToken cancellationToken)
    {
        var newest = store.ListStripsAsync(filter, cancellationToken);
        return revisions ? newest.SelectMany((s, token) => new ValueTask<IEnumerable<StripRecord>>(AllAsync(s.Id, token))) : newest;

        async Task<IEnumerable<StripRecord>> AllAsync(Guid id, CancellationToken token) => await store.StripRevisionsAsync(id, token);
    }

    private static string Ending(string path) => Path.GetExtension(path).TrimStart('.').ToLowerInvariant() switch
    {
        "jsonl" => "jsonl",
        "xlsx" => "xlsx",
        "cgats" or "txt" => "cgats",
        _ => "csv",
    };
}

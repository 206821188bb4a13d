using Acquire.Bench.Strips;
using Acquire.Formats.Strips;
using Acquire.Formats.Workbooks;
using Acquire.Storage.Records;

namespace Acquire.Commands.Files;

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
                "csv (a row per read), jsonl (whole records), cgats (CGATS.17 text) or xlsx (a workbook); by the file's ending when not "
                + "given.",
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
            var strips = Records(store, filter.Of(parsed), parsed.GetValue(revisions) && kind == "jsonl", cancellationToken).Select(s =>
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

using Acquire.Bench.Strips;
using Acquire.Storage.Export;

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
            var strips = store.ListStripsAsync(filter.Of(parsed), cancellationToken).Select(s =>
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
                surroundings.Error.Line($"{Rendering.Numbers.Count(count, "strip")} written to {path}.");
            }

            return ExitCode.Done;
        });
        return command;
    }
}

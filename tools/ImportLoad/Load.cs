using System.Diagnostics;
using Acquire.Bench.Import;
using Acquire.Bench.Processes;
using Acquire.Bench.Strips;
using Acquire.Formats;
using Acquire.Formats.Strips;
using Acquire.Formats.Tables;
using Acquire.Formats.Workbooks;
using Acquire.Storage;
using Acquire.Storage.Import;
using Acquire.Storage.Records;

namespace ImportLoad;

/// <summary>Imports one file and exports it in every format.</summary>
internal static class Load
{
    public static async Task RunAsync(int reads, string folder, CancellationToken cancellationToken)
    {
        var file = Path.Combine(folder, "strips.csv");
        await StripFile.WriteAsync(file, reads, cancellationToken);
        await using var store = await AcquireStore.OpenAsync(folder, TimeProvider.System, cancellationToken);
        var importer = new StripImporter(store, new ProcessLibrary(Path.Combine(folder, "processes")), TimeProvider.System);
        var request =
            new ImportRequest(file, "staff") { AddLots = true, Constants = new Dictionary<string, string> { ["process"] = "c41" } };
        await StepAsync(reads, "import", () => importer.RunAsync(request, new Silent(), cancellationToken));
        await StepAsync(reads, "import again", () => importer.RunAsync(request, new Silent(), cancellationToken));
        await ExportAsync("csv", (strips, stream, token) => StripReadsCsv.WriteAsync(strips, stream, token));
        await ExportAsync("cgats", (strips, stream, token) => StripCgats.WriteAsync(strips, stream, token));
        await ExportAsync("jsonl", (strips, stream, token) => StripJsonLines.WriteAsync(strips.Select(StripExports.Of), stream, token));
        await ExportAsync(
            "xlsx", (strips, stream, token) => StripWorkbook.WriteAsync(strips.Select(StripExports.Of), TimeZoneInfo.Utc, stream, token));

        Task ExportAsync(string format, Func<IAsyncEnumerable<StripRecord>, Stream, CancellationToken, Task> write) => StepAsync(
            reads,
            format,
            async () =>
            {
                await using var stream = File.Create(Path.Combine(folder, $"out.{format}"));
                await write(store.ListStripsAsync(StripFilter.All, cancellationToken), stream, cancellationToken);
            });
    }

    private static async Task StepAsync(int reads, string name, Func<Task> step)
    {
        var started = Stopwatch.GetTimestamp();
        await step();
        using var process = Process.GetCurrentProcess();
        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"{reads,8}  {name,-12} {Stopwatch.GetElapsedTime(started).TotalSeconds,8:0.0} {process.PeakWorkingSet64 / 1048576.0,9:0}"));
    }

    private sealed class Silent : IImportListener
    {
        public void Note(FilePlace spot, string text)
        {
        }

        public void Entry(ImportedEntry entry)
        {
        }

        public Task<DateStyle?> AskAsync(FilePlace spot, DateVerdict dates, CancellationToken cancellationToken) =>
            Task.FromResult<DateStyle?>(null);
    }
}

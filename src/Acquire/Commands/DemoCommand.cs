using System.CommandLine;
using Acquire.Bench.Lots;
using Acquire.Bench.Processes;
using Acquire.Bench.Strips;
using Acquire.Demo;
using Acquire.Hosting;
using Acquire.Storage;
using Acquire.Storage.Export;
using Acquire.Storage.Strips;
using Acquire.Terminal;

namespace Acquire.Commands;

/// <summary><c>acquire demo</c>: the main job once, on a simulated densitometer, in a throw-away data folder.</summary>
internal static class DemoCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var headless = new Option<bool>("--headless") { Description = "Run in the terminal and end by itself; without the page, this is what it does anyway." };
        var output = new Option<string?>("--out") { Description = "Write the strips to this CSV file at the end.", HelpName = "FILE" };
        var command = new Command("demo", "Read a reference strip and three strips on a simulated densitometer, and judge them.") { headless, output };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var folder = Directory.CreateTempSubdirectory("acquire-demo-").FullName;
            try
            {
                await using var store = await AcquireStore.OpenAsync(folder, surroundings.Time, cancellationToken);
                var lots = new LotBook(store, new ProcessLibrary(DataFolder.Processes(folder)), surroundings.Time);
                await new DemoRun(surroundings, store, lots).RunAsync(cancellationToken);
                if (parsed.GetValue(output) is { } path)
                {
                    await ExportFile.WriteAsync(
                        path,
                        (stream, token) => StripCsv.WriteAsync(store.ListStripsAsync(StripFilter.All, token).Select(StripExports.Of), stream, token),
                        cancellationToken);
                    surroundings.Error.Line($"The strips are in {path}.");
                }
            }
            finally
            {
                Directory.Delete(folder, recursive: true);
            }

            return ExitCode.Done;
        });
        return command;
    }
}

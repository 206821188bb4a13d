using Acquire.Bench.Lots;
using Acquire.Bench.Processes;
using Acquire.Bench.Export;
using Acquire.Commands;
using Acquire.Storage.Records;

namespace Acquire.Demo;

/// <summary>
/// <c>acquire demo</c>: the main job once, on a simulated densitometer, in a throw-away data folder; or a folder with an invented history.
/// </summary>
internal static class DemoCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var headless = new Option<bool>("--headless")
        {
            Description = "Run in the terminal and end by itself; without the page, this is what it does anyway.",
        };
        var output = new Option<string?>("--out") { Description = "Write the strips to this CSV file at the end.", HelpName = "FILE" };
        var into = new Option<string?>("--into")
        {
            Description = "Instead, fill this fresh data folder with an invented term of a college's darkroom, to try every command on.",
            HelpName = "DIR",
        };
        var seed = new Option<int>("--seed")
        {
            Hidden = true,
            DefaultValueFactory = _ => InventedTerm.Seed,
        };
        seed.Validators.Add(result =>
        {
            if (result.GetValueOrDefault<int>() != InventedTerm.Seed)
            {
                result.AddError(
                    $"The program has one term in it, that of seed {InventedTerm.Seed}; tools/DemoTerm among its sources makes others.");
            }
        });
        var command = new Command("demo", "Read a reference strip and three strips on a simulated densitometer, and judge them.")
        {
            headless, output, OutFile.Force, into, seed,
        };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            if (parsed.GetValue(into) is { } fresh)
            {
                return parsed.GetValue(headless) || parsed.GetValue(output) is not null
                    ? throw new BenchException("--into fills a data folder and reads no strips; leave --headless and --out out. To "
                        + "export afterwards: acquire export --out FILE --data DIR")
                    : await FillAsync(fresh, surroundings, cancellationToken);
            }

            var file = parsed.GetValue(output) is { } path ? OutFile.At(parsed, path) : null;
            var folder = Directory.CreateTempSubdirectory("acquire-demo-").FullName;
            try
            {
                await using var store = await AcquireStore.OpenAsync(folder, surroundings.Time, cancellationToken);
                var lots = new LotBook(store, new ProcessLibrary(DataFolder.Processes(folder)), surroundings.Time);
                await new DemoRun(surroundings, store, lots).RunAsync(cancellationToken);
                if (file is not null)
                {
                    await file.WriteAsync(
                        (stream, token) => new ExportDesk(store, surroundings.Time)
                            .WriteAsync(new ExportAsked(StripFilter.All, ExportForm.Results), stream, token),
                        cancellationToken);
                    surroundings.Error.Line($"The strips are in {file.Name}.");
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

    private static async Task<int> FillAsync(string named, Surroundings surroundings, CancellationToken cancellationToken)
    {
        var folder = Path.GetFullPath(named);
        await InventedTerm.FillAsync(folder, surroundings.Time, cancellationToken);
        await InventedTermSummary.WriteAsync(surroundings, folder, cancellationToken);
        return ExitCode.Done;
    }
}

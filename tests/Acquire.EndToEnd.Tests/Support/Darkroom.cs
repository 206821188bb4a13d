using System.Text.Json;
using Acquire.Hosting;

namespace Acquire.EndToEnd.Tests.Support;

/// <summary>A throw-away data folder and the program run on it.</summary>
internal sealed class Darkroom : IDisposable
{
    public const string Lot = "4410";

    private static readonly Lazy<Task<byte[]>> StoreWithLot = new(MakeStoreWithLotAsync);

    public string Folder { get; } = Directory.CreateTempSubdirectory("acquire-e2e-").FullName;

    public string Data => Path.Combine(Folder, "data");

    private static string Program => Path.Combine(AppContext.BaseDirectory, OperatingSystem.IsWindows() ? "acquire.exe" : "acquire");

    /// <summary>Starts the program on the data folder.</summary>
    public RunningProgram Start(params IEnumerable<string> arguments) =>
        RunningProgram.Start(Program, [.. arguments, "--data", Data], Folder);

    /// <summary>Starts the program on the data folder with variables of its environment.</summary>
    public RunningProgram StartWith(IReadOnlyDictionary<string, string> variables, params IEnumerable<string> arguments) =>
        RunningProgram.Start(Program, [.. arguments, "--data", Data], Folder, variables: variables);

    /// <summary>Starts the program on the data folder, to be typed to.</summary>
    public RunningProgram StartTyped(params IEnumerable<string> arguments) =>
        RunningProgram.Start(Program, [.. arguments, "--data", Data], Folder, typed: true);

    /// <summary>Starts the program on the data folder at a terminal, where a person presses keys when certain texts appear.</summary>
    public RunningProgram StartAtKeyboard(IEnumerable<(string Text, string Keys)> person, IEnumerable<string> arguments)
    {
        Tools.Require("python3");
        return RunningProgram.Start(
            "python3",
            [Path.Combine(AppContext.BaseDirectory, "Scripts", "person_at_keyboard.py"), .. person.SelectMany(
                p => new[] { p.Text, p.Keys }), "--", Program, .. arguments, "--data", Data],
            Folder);
    }

    /// <summary>Runs the program to its end.</summary>
    public async Task<(int Code, string Out, string Error)> RunAsync(params IEnumerable<string> arguments)
    {
        await using var program = Start(arguments);
        var code = await program.ExitAsync();
        return (code, program.Out, program.Error);
    }

    /// <summary>
    /// Runs the same command within the test, where nothing is to be proved of a process: one of its own costs a third of a second.
    /// </summary>
    public async Task<(int Code, string Out, string Error)> WithinAsync(params IEnumerable<string> arguments)
    {
        using var output = new StringWriter();
        using var error = new StringWriter();
        var (console, said) = (Surroundings.Make(output, redirected: true), Surroundings.Make(error, redirected: true));
        var code = await Application.RunAsync(
            [.. arguments, "--data", Data], new Surroundings(TimeProvider.System, console, said, HasKeyboard: false, "staff"));
        return (code, output.ToString(), error.ToString());
    }

    /// <summary>Sets up or looks, within the test; expects success, and gives the output.</summary>
    public async Task<string> DoAsync(params IEnumerable<string> arguments)
    {
        var (code, output, error) = await WithinAsync(arguments);
        Assert.True(code == 0, $"Exit code {code}.\nOut: {output}\nError: {error}");
        return output;
    }

    /// <summary>Looks, and reads the JSON that is said.</summary>
    public async Task<JsonElement> JsonAsync(params IEnumerable<string> arguments) =>
        JsonDocument.Parse(await DoAsync([.. arguments, "--json"])).RootElement;

    /// <summary>
    /// A lot with the densities of the reference strip entered, and a correction factor on LD. The program makes it once in a test run; a
    /// darkroom that has nothing yet gets a copy of that store.
    /// </summary>
    public async Task AddLotAsync()
    {
        if (Directory.Exists(Data))
        {
            await EnterLotAsync();
            return;
        }

        _ = Directory.CreateDirectory(Data);
        await File.WriteAllBytesAsync(Path.Combine(Data, "acquire.db"), await StoreWithLot.Value, TestContext.Current.CancellationToken);
    }

    private static async Task<byte[]> MakeStoreWithLotAsync()
    {
        using var darkroom = new Darkroom();
        await darkroom.EnterLotAsync();
        Assert.Equal(["acquire.db"], Directory.GetFiles(darkroom.Data, "acquire.db*").Select(Path.GetFileName));
        return await File.ReadAllBytesAsync(Path.Combine(darkroom.Data, "acquire.db"));
    }

    private async Task EnterLotAsync()
    {
        await DoAsync("lot", "add", Lot, "--process", "c41", "--expires", "2030-01-31", "--factor", "ld 0.01 -0.02 0");
        await DoAsync(
            "lot", "reference", Lot,
            "--value", "dmin 0.26 0.62 0.80",
            "--value", "ld 0.45 0.86 1.04",
            "--value", "hd 1.26 1.74 2.00",
            "--value", "dmax 2.12 2.58 2.92",
            "--value", "yellow 0.37 0.88 2.72");
    }

    public void Dispose() => Directory.Delete(Folder, recursive: true);
}

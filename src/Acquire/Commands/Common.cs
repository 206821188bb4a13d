using Acquire.Bench.Lots;
using Acquire.Bench.Processes;
using Acquire.Bench.Safety;
using Acquire.Instruments.Links;
using Acquire.Instruments.ProfileFiles;
using Acquire.Storage.Files;
using Microsoft.Extensions.Logging;

namespace Acquire.Commands;

/// <summary>Options that several commands share, and what they lead to.</summary>
internal static class Common
{
    /// <summary>Where the data is; on every command.</summary>
    public static Option<string?> Data { get; } = new("--data")
    {
        Description = "The data folder; the user's own when not given.",
        HelpName = "DIR",
        Recursive = true,
    };

    /// <summary>Whether the log is shown too; on every command.</summary>
    public static Option<bool> Verbose { get; } = new("--verbose")
    {
        Description = "Show on standard error what is written to the log.",
        Recursive = true,
    };

    public static Option<bool> Json() => new("--json") { Description = "Write JSON for other programs." };

    public static Option<string> Port() => new("--port")
    {
        Description =
            "The instrument's port: a path such as /dev/serial/by-id/… or /dev/ttyUSB0, COM3, tcp:HOST:PORT, or rfc2217:HOST:PORT.",
        HelpName = "PORT",
        Required = true,
    };

    public static Option<string> Profile() => new("--profile")
    {
        Description = "The device profile: a name that 'acquire profile list' shows, or a file.",
        HelpName = "PROFILE",
        Required = true,
    };

    public static Option<int?> Baud() => new("--baud")
    {
        Description = "Bits per second, where the instrument is set otherwise than its profile says.",
        HelpName = "N",
    };

    public static Option<int> Reads(int usual) => new("--reads")
    {
        Description = "Reads of each patch, the strip lifted and placed anew between them.",
        HelpName = "N",
        DefaultValueFactory = _ => usual,
    };

    public static Argument<string> LotCode() => new("code") { Description = "The code number printed on the box.", HelpName = "CODE" };

    public static Option<string?> By() =>
        new("--by") { Description = "Who does it; the user of this computer when not given.", HelpName = "NAME" };

    public static Option<string> Process() =>
        new("--process") { Description = "Key of the process sheet, such as c41.", HelpName = "KEY", Required = true };

    public static Option<bool> NoBell() => new("--no-bell") { Description = "Do not sound the bell." };

    public static async Task<AcquireStore> OpenStoreAsync(
        ParseResult parsed, Surroundings surroundings, CancellationToken cancellationToken)
    {
        var store = await AcquireStore.OpenAsync(DataFolder.Resolve(parsed.GetValue(Data)), surroundings.Time, cancellationToken);
        surroundings.Opened.Add(store);
        return store;
    }

    /// <summary>A command that asks the store once and prints what it is told; it gains <c>--json</c>.</summary>
    public static Command Shows<T>(
        Command command,
        Surroundings surroundings,
        Func<ParseResult, AcquireStore, CancellationToken, Task<T>> ask,
        Action<IAnsiConsole, T, TimeProvider, bool> write)
    {
        var json = Json();
        command.Options.Add(json);
        command.SetAction(async (parsed, cancellationToken) =>
        {
            await using var store = await OpenStoreAsync(parsed, surroundings, cancellationToken);
            write(surroundings.Out, await ask(parsed, store, cancellationToken), surroundings.Time, parsed.GetValue(json));
            return ExitCode.Done;
        });
        return command;
    }

    public static ILoggerFactory Logs(ParseResult parsed) =>
        Hosting.Logs.Open(DataFolder.Resolve(parsed.GetValue(Data)), parsed.GetValue(Verbose));

    /// <summary>The links, told which command holds the port, so that a second opener learns it.</summary>
    public static LinkOpener Links(ParseResult parsed, Surroundings surroundings, ILoggerFactory logs) => new(
        surroundings.Time,
        new LinkOpenerOptions { Command = NameOf(parsed) },
        logs.CreateLogger<LinkOpener>());

    /// <summary>The command as the user types it, so that others can be told who holds a port or a session.</summary>
    public static string NameOf(ParseResult parsed) => $"acquire {parsed.CommandResult.Command.Name}";

    public static ProcessLibrary Processes(ParseResult parsed) => new(DataFolder.Processes(DataFolder.Resolve(parsed.GetValue(Data))));

    public static StoreCare Care(ParseResult parsed, Surroundings surroundings) =>
        new(DataFolder.Resolve(parsed.GetValue(Data)), surroundings.Time);

    public static LotBook Lots(ParseResult parsed, AcquireStore store, Surroundings surroundings) =>
        new(store, Processes(parsed), surroundings.Time);

    public static ProfileLibrary Profiles(ParseResult parsed) => new(DataFolder.Profiles(DataFolder.Resolve(parsed.GetValue(Data))));
}

/// <summary>What a command is given, said in a line.</summary>
internal static class Given
{
    public static Option<T> Option<T>(string name, string takes, string description) =>
        new(name) { Description = description, HelpName = takes };

    public static Argument<T> Argument<T>(string name, string takes, string description) =>
        new(name) { Description = description, HelpName = takes };
}

/// <summary><c>--give-up</c>: how long an instrument that was unplugged is waited for.</summary>
internal static class GiveUp
{
    /// <summary>Without a keyboard nobody may be there to plug it in again.</summary>
    private static readonly TimeSpan Unattended = TimeSpan.FromSeconds(60);

    public static Option<double?> Option()
    {
        var option = new Option<double?>("--give-up")
        {
            Description = "How long an instrument that was unplugged is waited for; for ever with a keyboard, else 60.",
            HelpName = "SECONDS",
        };
        option.Validators.Add(result =>
        {
            if (result.GetValueOrDefault<double?>() is < 0 or > 1_000_000 or double.NaN)
            {
                result.AddError("--give-up takes 0 to 1000000 seconds.");
            }
        });
        return option;
    }

    public static TimeSpan After(double? seconds, Surroundings surroundings) => seconds is { } given
        ? TimeSpan.FromSeconds(given)
        : surroundings.HasKeyboard ? Timeout.InfiniteTimeSpan : Unattended;
}

/// <summary>Every option that names a file to write leads here.</summary>
internal static class OutFile
{
    /// <summary>Whether a file that is there is replaced; on every command that writes one.</summary>
    public static Option<bool> Force { get; } = new("--force") { Description = "Replace the file that is there." };

    /// <summary>The file, which is not there or may be replaced; before any work is done for it.</summary>
    /// <exception cref="BenchException">It may not be written.</exception>
    public static WholeFile At(ParseResult parsed, string name) => WholeFile.At(name, parsed.GetValue(Force));

    /// <summary>A file that is written as things come, and must be new: only a name that no store takes for its own.</summary>
    /// <exception cref="BenchException">It is such a name.</exception>
    public static string New(string name) => StoreNames.Owns(WholeFile.Real(name))
        ? throw new BenchException($"{name} is a name that belongs to a store; name another file.")
        : name;
}

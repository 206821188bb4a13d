using Acquire.Bench.Books;
using Acquire.Rendering.Books;

namespace Acquire.Commands.Books;

/// <summary>When, who and a note: the options of every command that makes an entry, and how an entry is made.</summary>
internal sealed class BookOptions
{
    /// <summary>What the help of a command about chemistry ends with.</summary>
    public const string Care = " Gloves; the product's safety data sheet rules.";

    private readonly Option<string?> _at = At("When it happened, if not now");
    private readonly Option<string?> _by =
        new("--by") { Description = "Who enters it; the user of this computer when not given.", HelpName = "NAME" };
    private readonly Option<string?> _note = new("--note") { Description = "A note to keep with the entry.", HelpName = "TEXT" };

    public static Option<string?> At(string what) => new("--at")
    {
        Description = $"{what}: 19:30, \"yesterday 19:30\", -3d, -2h, 2026-11-24, \"2026-11-24 19:30\".",
        HelpName = "TIME",
    };

    public void AddTo(Command command)
    {
        command.Options.Add(_at);
        command.Options.Add(_by);
        command.Options.Add(_note);
    }

    public EntryInput Of(ParseResult parsed, Surroundings surroundings) =>
        new(parsed.GetValue(_by) ?? surroundings.User, parsed.GetValue(_at), parsed.GetValue(_note));

    /// <summary>A command that makes an entry: enters what is asked for, tells what was entered and what looks wrong.</summary>
    /// <param name="command">The command; it gains the options.</param>
    /// <param name="request">Reads from the words what is to be entered.</param>
    public static Command Enters(Command command, Surroundings surroundings, Func<ParseResult, BookRequest> request)
    {
        var options = new BookOptions();
        options.AddTo(command);
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var (asked, input) = (request(parsed), options.Of(parsed, surroundings));
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            var books = new DarkroomBooks(store, surroundings.Time);
            EnteredReport.Write(surroundings, await books.EnterAsync(asked, input, cancellationToken));
            return ExitCode.Done;
        });
        return command;
    }

    /// <summary>A command that shows what the books hold.</summary>
    public static Command Shows<T>(
        Command command,
        Surroundings surroundings,
        Func<ParseResult, BookViews, CancellationToken, Task<T>> look,
        Action<IAnsiConsole, T, TimeProvider, bool> write) => Common.Shows(
            command,
            surroundings,
            (parsed, store, cancellationToken) => look(parsed, new BookViews(store, surroundings.Time), cancellationToken),
            write);
}

/// <summary>The options that say how a solution is kept.</summary>
internal sealed class StorageOptions
{
    private readonly Option<string?> _container =
        new("--container") { Description = "What it is kept in, such as glass, PET, accordion, tank.", HelpName = "TEXT" };
    private readonly Option<string?> _capacity =
        new("--holds") { Description = "How much the container holds brim-full, such as 1L.", HelpName = "VOLUME" };
    private readonly Option<string?> _gas =
        new("--gas") { Description = "The gas above the solution, such as air, nitrogen, argon, butane (flammable).", HelpName = "TEXT" };
    private readonly Option<double?> _temperature = new("--stored") { Description = "Storage temperature in °C.", HelpName = "C" };

    public void AddTo(Command command)
    {
        command.Options.Add(_container);
        command.Options.Add(_capacity);
        command.Options.Add(_gas);
        command.Options.Add(_temperature);
    }

    public BottleStorage Of(ParseResult parsed) => new(
        parsed.GetValue(_container),
        parsed.GetValue(_capacity) is { } text ? Amounts.Volume(text) : null,
        parsed.GetValue(_gas),
        parsed.GetValue(_temperature));
}

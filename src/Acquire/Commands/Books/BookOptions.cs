using Acquire.Bench.Books;

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

    /// <summary>A command that makes an entry: opens the books, lets it be made, tells what was entered and what looks wrong.</summary>
    /// <param name="command">The command; it gains the options.</param>
    /// <param name="then">What to say after it on standard output; null for nothing.</param>
    public Command Enters(
        Command command,
        Surroundings surroundings,
        Func<ParseResult, DarkroomBooks, EntryInput, CancellationToken, Task<Entered>> enter,
        Func<ParseResult, Entered, string?>? then = null)
    {
        AddTo(command);
        command.SetAction(async (parsed, cancellationToken) =>
        {
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            var entered = await enter(parsed, Books(store, surroundings), Of(parsed, surroundings), cancellationToken);
            Tell(surroundings, entered);
            if (then?.Invoke(parsed, entered) is { } more)
            {
                surroundings.Out.Line(more);
            }

            return ExitCode.Done;
        });
        return command;
    }

    public static DarkroomBooks Books(AcquireStore store, Surroundings surroundings) => new(store, surroundings.Time);

    /// <summary>Says what was entered, and what looks wrong about it.</summary>
    public static void Tell(Surroundings surroundings, Entered entered)
    {
        foreach (var entry in entered.Entries)
        {
            surroundings.Out.Line($"{Numbers.Moment(entry.HappenedAt, surroundings.Time)}  {EntryText.Of(entered.Books, entry)}");
        }

        foreach (var warning in entered.Warnings)
        {
            surroundings.Error.Line(warning);
        }
    }

    /// <summary>A kind as people write it: <c>dip-tank</c>, <c>dip tank</c> or <c>DipTank</c>.</summary>
    /// <exception cref="BenchException">It is none of them.</exception>
    public static T Kind<T>(string text)
        where T : struct, Enum => TryKind<T>(text)
            ?? throw new BenchException($"'{text}' is none of {string.Join(", ", Words<T>())}.");

    public static T? TryKind<T>(string text)
        where T : struct, Enum
    {
        var wanted = text.Replace("-", "", StringComparison.Ordinal).Replace(" ", "", StringComparison.Ordinal).Replace(
            "_", "", StringComparison.Ordinal);
        foreach (var kind in Enum.GetValues<T>())
        {
            if (string.Equals(kind.ToString(), wanted, StringComparison.OrdinalIgnoreCase))
            {
                return kind;
            }
        }

        return null;
    }

    public static IEnumerable<string> Words<T>()
        where T : struct, Enum => Enum.GetValues<T>().Select(k => EntryText.Word(k).Replace(' ', '-')).Order(StringComparer.Ordinal);

    /// <summary>A developing time: <c>3:15</c> or so many seconds.</summary>
    /// <exception cref="BenchException">It is none.</exception>
    public static TimeSpan? Duration(string? text) => text switch
    {
        null => null,
        _ when int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var seconds) => TimeSpan.FromSeconds(seconds),
        _ when TimeSpan.TryParseExact(text, [@"m\:ss", @"mm\:ss", @"h\:mm\:ss"], CultureInfo.InvariantCulture, out var time) => time,
        _ =>
            throw new BenchException($"'{text}' is no developing time; expected minutes and seconds such as 3:15, or seconds such as 195."),
    };
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

/// <summary>What the user names, or else what is at hand; the latter is said on standard error.</summary>
internal static class Chosen
{
    public static ProcessLine Line(Ledger books, string? name, DateTimeOffset at, Surroundings surroundings)
    {
        if (name is not null)
        {
            return BookNames.Line(books, name);
        }

        var line = LastUsed.Of(books, at).Line
            ?? throw new BenchException($"Which line? {Has(books.Lines.Select(l => l.Name), "acquire line add NAME --process c41")}");
        surroundings.Error.Line($"Taken, since none was named: line {line.Name}.");
        return line;
    }

    public static Bottle Bottle(Ledger books, string? name, DateTimeOffset at, Surroundings surroundings)
    {
        if (name is not null)
        {
            return BookNames.Bottle(books, name, at);
        }

        var bottle = LastUsed.AtHand(books, at)
            ?? throw new BenchException($"Which bottle? {Has(books.BottlesInUse(at).Select(b => b.Name), "acquire bottle fill NAME")}");
        surroundings.Error.Line($"Taken, since none was named: bottle {bottle.Name}.");
        return bottle;
    }

    public static string Has(IEnumerable<string> names, string add) =>
        names.ToList() is { Count: > 0 } all
            ? $"In use: {string.Join(", ", all)}."
            : $"The books have none in use at that time. Add one first: {add}";
}

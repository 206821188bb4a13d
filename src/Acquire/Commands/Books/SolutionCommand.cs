using Acquire.Bench.Books;
using Acquire.Rendering.Books;

namespace Acquire.Commands.Books;

/// <summary><c>acquire solution</c>: mixes.</summary>
internal static class SolutionCommand
{
    public static Command Build(Surroundings surroundings) =>
        new("solution", "Solutions: what was mixed, when, and from which concentrate." + BookOptions.Care)
        {
            BuildMix(surroundings),
            BuildList(surroundings),
            BuildShow(surroundings),
        };

    private static Command BuildMix(Surroundings surroundings)
    {
        var name = new Argument<string>("name") { Description = "Your name for the mix, such as dev12.", HelpName = "NAME" };
        var volume = new Argument<string>("volume") { Description = "How much was mixed, such as 1L.", HelpName = "VOLUME" };
        var kind = new Option<string>("--kind")
        {
            Description = $"What it does: {string.Join(", ", BookOptions.Words<SolutionKind>())}.",
            HelpName = "KIND",
            DefaultValueFactory = _ => "developer",
        };
        var process = new Option<string?>("--process")
        {
            Description = "Key of the process sheet; that of the last mix when not given.",
            HelpName = "KEY",
        };
        var concentrate =
            new Option<string?>("--concentrate") { Description = "Lot of the concentrate, as printed on it.", HelpName = "LOT" };
        var command = new Command("mix", "Enter a mix." + BookOptions.Care) { name, volume, kind, process, concentrate };
        return new BookOptions().Enters(
            command,
            surroundings,
            (parsed, books, input, cancellationToken) => books.EnterAsync(
                input,
                (ledger, _, stamp) =>
                {
                    var wanted = parsed.GetRequiredValue(name);
                    if (ledger.Solutions.FirstOrDefault(
                        s => string.Equals(s.Name, wanted.Trim(), StringComparison.OrdinalIgnoreCase)) is { } there)
                    {
                        throw new BenchException($"There is a mix {there.Name} already. Give the new one a name of its own.");
                    }

                    var key = parsed.GetValue(process) is { } given ? Common.Processes(parsed).Get(given).Key : Usual(ledger, surroundings);
                    return
                    [
                        new Solution(
                            stamp(),
                            wanted,
                            BookOptions.Kind<SolutionKind>(parsed.GetValue(kind)!),
                            key,
                            Amounts.Volume(parsed.GetRequiredValue(volume)),
                            parsed.GetValue(concentrate)),
                    ];
                },
                cancellationToken),
            (_, entered) => $"Next, the bottles it went into: acquire bottle fill NAME --volume "
                + $"{EntryText.Litres(((Solution)entered.Entries[0]).Volume).Replace(" ", "", StringComparison.Ordinal)}");
    }

    private static Command BuildList(Surroundings surroundings)
    {
        var json = Common.Json();
        var command = new Command("list", "List the mixes.") { json };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            var books = await BookOptions.Books(store, surroundings).OpenAsync(cancellationToken);
            SolutionReport.WriteList(surroundings.Out, books, [.. books.Solutions], surroundings.Time, parsed.GetValue(json));
            return ExitCode.Done;
        });
        return command;
    }

    private static Command BuildShow(Surroundings surroundings)
    {
        var name = new Argument<string>("name") { Description = "The mix.", HelpName = "NAME" };
        var json = Common.Json();
        var command = new Command("show", "Show a mix and its bottles.") { name, json };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            var books = await BookOptions.Books(store, surroundings).OpenAsync(cancellationToken);
            SolutionReport.WriteOne(
                surroundings.Out,
                books,
                BookNames.Solution(books, parsed.GetRequiredValue(name)),
                surroundings.Time,
                parsed.GetValue(json));
            return ExitCode.Done;
        });
        return command;
    }

    private static string Usual(Ledger books, Surroundings surroundings)
    {
        var key = books.Solutions.LastOrDefault()?.ProcessKey ?? books.Lines.Select(l => l.ProcessKey).Distinct().ToList() switch
        {
            [var only] => only,
            _ => throw new BenchException("Which process? Name it, e.g. --process c41; later mixes take it from this one."),
        };
        surroundings.Error.Line($"Taken, since none was named: process {key}.");
        return key;
    }
}

using Acquire.Bench.Books;
using Acquire.Rendering.Books;

namespace Acquire.Commands.Books;

/// <summary><c>acquire use</c>: film that was processed.</summary>
internal static class UseCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var films = new Argument<string[]>("films")
        {
            Description = "What was processed, such as 2x135-36 120 4x5, or an area such as 0.2m2. "
                + $"Formats: {string.Join(", ", FilmFormat.All.Select(f => f.Key))}.",
            HelpName = "FILMS",
            Arity = ArgumentArity.ZeroOrMore,
        };
        var bottle = Given.Option<string[]>(
            "--bottle", "NAME", "A bottle it went through, once per bottle; those used last when not given.");
        var line = new Option<string?>("--line") { Description = "The process line; the one used last when not given.", HelpName = "NAME" };
        var command = new Command("use", "Enter film that was processed, e.g. acquire use 2x135-36") { films, bottle, line };
        _ = BookOptions.Enters(command, surroundings, parsed => new UseRequest([.. (parsed.GetValue(films) ?? []).Select(Amounts.Films)])
        {
            Bottles = [.. parsed.GetValue(bottle) ?? []],
            Line = parsed.GetValue(line),
        });
        command.Subcommands.Add(BookOptions.Shows(
            new Command("list", "List what was processed."),
            surroundings,
            (_, books, cancellationToken) => books.UsesAsync(cancellationToken),
            (console, entries, time, json) =>
                EntryReport.Write(console, entries, time, json, "Nothing entered yet. Enter film: acquire use 2x135-36")));
        command.Subcommands.Add(BuildFormats(surroundings));
        return command;
    }

    private static Command BuildFormats(Surroundings surroundings)
    {
        var json = Common.Json();
        var command = new Command("formats", "List the formats, their areas and where the numbers come from.") { json };
        command.SetAction(parsed =>
        {
            FormatReport.Write(surroundings.Out, parsed.GetValue(json));
            return ExitCode.Done;
        });
        return command;
    }
}

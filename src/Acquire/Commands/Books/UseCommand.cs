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
        var bottle = new Option<string[]>("--bottle")
        {
            Description = "A bottle it went through, once per bottle; those used last when not given.",
            HelpName = "NAME",
        };
        var line = new Option<string?>("--line") { Description = "The process line; the one used last when not given.", HelpName = "NAME" };
        var command = new Command("use", "Enter film that was processed, e.g. acquire use 2x135-36") { films, bottle, line };
        _ = new BookOptions().Enters(
            command,
            surroundings,
            (parsed, books, input, cancellationToken) => books.EnterAsync(
                input,
                (ledger, at, stamp) =>
                {
                    var counts = (parsed.GetValue(films) ?? []).Select(Amounts.Films).ToList();
                    if (counts.Count == 0)
                    {
                        throw new BenchException("Say what was processed, e.g. acquire use 2x135-36 120, or an area: acquire use 0.2m2");
                    }

                    var (bottles, where) = Through(ledger, parsed.GetValue(bottle) ?? [], parsed.GetValue(line), at, surroundings);
                    return [new FilmUse(stamp(), [.. counts], [.. bottles.Select(b => b.Id)], where?.Id)];
                },
                cancellationToken),
            (_, entered) => entered.Entries is [FilmUse use] && !use.BottleIds.IsEmpty
                ? string.Join(
                    Environment.NewLine,
                    use.BottleIds.Select(id => EntryText.Line(entered.Books.At(entered.Books.Get<Bottle>(id), use.HappenedAt))))
                : null);
        command.Subcommands.Add(BuildList(surroundings));
        command.Subcommands.Add(BuildFormats(surroundings));
        return command;
    }

    /// <summary>What is named, and for what is not, what was used last. Who names one of the two may leave the other out.</summary>
    private static (IReadOnlyList<Bottle> Bottles, ProcessLine? Line) Through(
        Ledger books, string[] bottles, string? line, DateTimeOffset at, Surroundings surroundings)
    {
        var usual = LastUsed.Of(books, at);
        IReadOnlyList<Bottle> chosen =
            bottles.Length > 0 ? [.. bottles.Select(b => BookNames.Bottle(books, b, at)).Distinct()] : usual.IsWhole ? usual.Bottles : [];
        var where = line is null ? usual.Line : BookNames.Line(books, line);
        if (bottles.Length == 0 && line is null && !usual.IsWhole)
        {
            throw new BenchException(
                $"Which bottles? Not every bottle of the last use is clear any more, so name them with --bottle, or only the line with "
                + $"--line. {Chosen.Has(books.BottlesInUse(at).Select(b => b.Name), "acquire bottle fill NAME")}");
        }

        if (chosen.Count == 0 && line is null && (books.BottlesInUse(at).Any() || where is null))
        {
            throw new BenchException($"Which bottle? Name it with --bottle, or the line with --line. "
                + $"{Chosen.Has(books.BottlesInUse(at).Select(b => b.Name), "acquire bottle fill NAME")}");
        }

        var taken = new[]
        {
            bottles.Length == 0 && chosen.Count > 0 ? $"bottle {string.Join(", ", chosen.Select(b => b.Name))}" : null,
            line is null && where is not null ? $"line {where.Name}" : null,
        }.OfType<string>().ToList();
        if (taken.Count > 0)
        {
            surroundings.Error.Line($"Taken, since none was named: {string.Join(", ", taken)}.");
        }

        if (chosen.Count == 0)
        {
            surroundings.Error.Line("No bottle was named and none is at hand, so this counts for the line only.");
        }

        return (chosen, where);
    }

    private static Command BuildList(Surroundings surroundings)
    {
        var json = Common.Json();
        var command = new Command("list", "List what was processed.") { json };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            var books = await BookOptions.Books(store, surroundings).OpenAsync(cancellationToken);
            EntryReport.Write(
                surroundings.Out,
                books,
                [.. books.Uses],
                surroundings.Time,
                parsed.GetValue(json),
                "Nothing entered yet. Enter film: acquire use 2x135-36");
            return ExitCode.Done;
        });
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

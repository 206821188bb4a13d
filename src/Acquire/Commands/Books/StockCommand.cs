using Acquire.Bench.Books;
using Acquire.Rendering.Books;

namespace Acquire.Commands.Books;

/// <summary><c>acquire lot stock</c>: how many strips of a lot are left.</summary>
internal static class StockCommand
{
    private static readonly Dictionary<string, StockMoveKind> Verbs = new(StringComparer.OrdinalIgnoreCase)
    {
        ["add"] = StockMoveKind.Added,
        ["take"] = StockMoveKind.Taken,
        ["return"] = StockMoveKind.Returned,
        ["use"] = StockMoveKind.Used,
        ["spoil"] = StockMoveKind.Spoiled,
    };

    public static Command Build(Surroundings surroundings)
    {
        var words = new Argument<string[]>("what")
        {
            Description = "Nothing, to show the stock; or the lot and add, take (out of the cold), return, use (processed, not read) or "
                + "spoil, and how many. Without a lot: the one moved last; without a number: 1.",
            HelpName = "[CODE] [add|take|return|use|spoil] [N]",
            Arity = new ArgumentArity(0, 3),
        };
        var json = Common.Json();
        var options = new BookOptions();
        var command = new Command(
            "stock", "Strips in stock. A strip that is read is taken off by itself. Thaw strips in their closed pack.") { words, json };
        options.AddTo(command);
        command.SetAction(async (parsed, cancellationToken) =>
        {
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            var views = new BookViews(store, surroundings.Time);
            var (code, verb, number) = Read(parsed.GetValue(words) ?? []);
            var input = options.Of(parsed, surroundings);
            if (verb is not { } kind)
            {
                StockReport.Write(
                    surroundings.Out, await views.StocksAsync(code, input.At, cancellationToken), surroundings.Time, parsed.GetValue(json));
                return ExitCode.Done;
            }

            var entered = await new DarkroomBooks(store, surroundings.Time)
                .EnterAsync(new StockRequest(code, kind, number), input, cancellationToken);
            EnteredReport.Write(surroundings, entered);
            surroundings.Out.Line(StockReport.Line(await views.StockAfterAsync(entered, cancellationToken)));
            return ExitCode.Done;
        });
        return command;
    }

    private static (string? Code, StockMoveKind? Verb, int Number) Read(string[] words) => words switch
    {
        [] => (null, null, 1),
        [var verb] when Verbs.TryGetValue(verb, out var kind) => (null, kind, 1),
        [var code] => (code, null, 1),
        [var verb, var number] when Verbs.TryGetValue(verb, out var kind) => (null, kind, Number(number)),
        [var code, var verb] when Verbs.TryGetValue(verb, out var kind) => (code, kind, 1),
        [var code, var verb, var number] when Verbs.TryGetValue(verb, out var kind) => (code, kind, Number(number)),
        _ => throw new BenchException(
            $"Expected a lot, one of {string.Join(", ", Verbs.Keys)}, and how many: acquire lot stock 2417 add 20"),
    };

    private static int Number(string text) =>
        int.TryParse(text, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var number)
        ? number
        : throw new BenchException($"'{text}' is no number of strips; expected a whole number such as 20.");
}

using Acquire.Bench.Books;
using Acquire.Rendering.Books;

namespace Acquire.Commands.Books;

/// <summary><c>acquire bottle</c>: the bottles and tanks that solutions are kept in.</summary>
internal static class BottleCommand
{
    public static Command Build(Surroundings surroundings) =>
        new("bottle", "Bottles: filled, opened, poured, stored, discarded." + BookOptions.Care)
        {
            BuildFill(surroundings),
            BuildOpen(surroundings),
            BuildVolume("top-up", "Enter that solution was added to a bottle.", BottleEventKind.ToppedUp, surroundings),
            BuildVolume("pour", "Enter that solution was taken out of a bottle for good.", BottleEventKind.Poured, surroundings),
            BuildStore(surroundings),
            BuildDiscard(surroundings),
            BuildList(surroundings),
            BuildShow(surroundings),
        };

    private static Command BuildFill(Surroundings surroundings)
    {
        var name = Given.Argument<string>("name", "NAME", "Your name for the bottle, best a short code such as D7.");
        var of = new Option<string?>("--of") { Description = "The mix; the last one when not given.", HelpName = "SOLUTION" };
        var volume = Given.Option<string?>("--volume", "VOLUME", "How much was filled in; what is left of the mix when not given.");
        var storage = new StorageOptions();
        var full = new Option<bool>("--full") { Description = "Brim-full: it holds just what was filled in." };
        var command = new Command("fill", "Enter a bottle that was filled." + BookOptions.Care) { name, of, volume, full };
        storage.AddTo(command);
        return BookOptions.Enters(command, surroundings, parsed => new FillRequest(parsed.GetRequiredValue(name))
        {
            Solution = parsed.GetValue(of),
            Volume = parsed.GetValue(volume) is { } text ? Amounts.Volume(text) : null,
            Storage = storage.Of(parsed),
            IsFull = parsed.GetValue(full),
        });
    }

    private static Command BuildOpen(Surroundings surroundings)
    {
        var name = Name();
        return BookOptions.Enters(
            new Command("open", "Enter that a bottle was opened.") { name },
            surroundings,
            parsed => new BottleRequest(parsed.GetValue(name), BottleEventKind.Opened));
    }

    private static Command BuildVolume(string word, string description, BottleEventKind kind, Surroundings surroundings)
    {
        var words = new Argument<string[]>("bottle-and-volume")
        {
            Description = "The bottle and how much, such as D7 300ml; the bottle at hand when only a volume is given.",
            HelpName = "[NAME] VOLUME",
            Arity = new ArgumentArity(1, 2),
        };
        return BookOptions.Enters(new Command(word, description + BookOptions.Care) { words }, surroundings, parsed =>
        {
            // In either order, as long as only one of the two can be a volume.
            var (name, volume) = parsed.GetRequiredValue(words) switch
            {
                [var only] => (null, only),
                [var first, var second] when Amounts.TryVolume(second) is null && Amounts.TryVolume(first) is not null => (second, first),
                [var first, var second] => ((string?)first, second),
                _ => throw new BenchException("Give the bottle and how much, such as D7 300ml."),
            };
            return new BottleRequest(name, kind) { Volume = Amounts.Volume(volume) };
        });
    }

    private static Command BuildStore(Surroundings surroundings)
    {
        var name = Name();
        var storage = new StorageOptions();
        var command = new Command("store", "Enter that a bottle is kept in another way; what is not named stays as it was.") { name };
        storage.AddTo(command);
        return BookOptions.Enters(
            command,
            surroundings,
            parsed => new BottleRequest(parsed.GetValue(name), BottleEventKind.StoredAnew) { Storage = storage.Of(parsed) });
    }

    private static Command BuildDiscard(Surroundings surroundings)
    {
        var name = new Argument<string>("name") { Description = "The bottle.", HelpName = "NAME" };
        var reason = new Option<string?>("--reason") { Description = "Why.", HelpName = "TEXT" };
        var command = new Command(
            "discard",
            "Enter that a bottle was emptied for good; dispose of solutions by your local code." + BookOptions.Care) { name, reason };
        return BookOptions.Enters(
            command,
            surroundings,
            parsed => new BottleRequest(parsed.GetValue(name), BottleEventKind.Discarded) { Reason = parsed.GetValue(reason) });
    }

    private static Command BuildList(Surroundings surroundings)
    {
        var all = new Option<bool>("--all") { Description = "Those out of use too." };
        return BookOptions.Shows(
            new Command("list", "List the bottles in use: age, time open, film, fill.") { all },
            surroundings,
            (parsed, books, cancellationToken) => books.BottlesAsync(parsed.GetValue(all), cancellationToken),
            BottleReport.WriteList);
    }

    private static Command BuildShow(Surroundings surroundings)
    {
        var name = Name();
        var at = BookOptions.At("As it was at a time");
        return BookOptions.Shows(
            new Command("show", "Show a bottle and everything that happened to it.") { name, at },
            surroundings,
            (parsed, books, cancellationToken) => books.BottleAsync(parsed.GetValue(name), parsed.GetValue(at), cancellationToken),
            (console, bottle, time, json) =>
            {
                surroundings.Error.Lines(bottle.Taken);
                BottleReport.WriteOne(console, bottle, time, json);
            });
    }

    private static Argument<string?> Name() =>
        new("name") { Description = "The bottle; the one at hand when not given.", HelpName = "NAME", Arity = ArgumentArity.ZeroOrOne };
}

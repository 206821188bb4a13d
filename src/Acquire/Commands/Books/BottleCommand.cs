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
            BottleEventCommands.BuildOpen(surroundings),
            BottleEventCommands.BuildTopUp(surroundings),
            BottleEventCommands.BuildPour(surroundings),
            BottleEventCommands.BuildStore(surroundings),
            BottleEventCommands.BuildDiscard(surroundings),
            BuildList(surroundings),
            BuildShow(surroundings),
        };

    private static Command BuildFill(Surroundings surroundings)
    {
        var name =
            new Argument<string>("name") { Description = "Your name for the bottle, best a short code such as D7.", HelpName = "NAME" };
        var of = new Option<string?>("--of") { Description = "The mix; the last one when not given.", HelpName = "SOLUTION" };
        var volume = new Option<string?>("--volume")
        {
            Description = "How much was filled in; what is left of the mix when not given.",
            HelpName = "VOLUME",
        };
        var storage = new StorageOptions();
        var full = new Option<bool>("--full") { Description = "Brim-full: it holds just what was filled in." };
        var command = new Command("fill", "Enter a bottle that was filled." + BookOptions.Care) { name, of, volume, full };
        storage.AddTo(command);
        return new BookOptions().Enters(command, surroundings, (parsed, books, input, cancellationToken) => books.EnterAsync(
            input,
            (ledger, at, stamp) =>
            {
                var wanted = parsed.GetRequiredValue(name);
                RefuseTwice(ledger, wanted, at, surroundings);
                var mix = parsed.GetValue(of) is { } given ? BookNames.Solution(ledger, given) : LastMix(ledger, at, surroundings);
                var litres = parsed.GetValue(volume) is { } text ? Amounts.Volume(text) : Rest(ledger, mix);
                var kept = storage.Of(parsed);
                return [new Bottle(
                    stamp(), wanted, mix.Id, litres, parsed.GetValue(full) ? kept.Then(new BottleStorage(capacity: litres)) : kept)];
            },
            cancellationToken));
    }

    private static Command BuildList(Surroundings surroundings)
    {
        var all = new Option<bool>("--all") { Description = "Those out of use too." };
        var json = Common.Json();
        var command = new Command("list", "List the bottles in use: age, time open, film, fill.") { all, json };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            var books = await BookOptions.Books(store, surroundings).OpenAsync(cancellationToken);
            var now = surroundings.Time.GetUtcNow();
            BottleReport.WriteList(
                surroundings.Out,
                [.. (parsed.GetValue(all) ? books.Bottles : books.Bottles.Where(b => !(books.DiscardedAt(b) <= now))).Select(
                    b => books.At(b, now))],
                surroundings.Time,
                parsed.GetValue(json));
            return ExitCode.Done;
        });
        return command;
    }

    private static Command BuildShow(Surroundings surroundings)
    {
        var name = new Argument<string?>("name")
        {
            Description = "The bottle; the one at hand when not given.",
            HelpName = "NAME",
            Arity = ArgumentArity.ZeroOrOne,
        };
        var at = BookOptions.At("As it was at a time");
        var json = Common.Json();
        var command = new Command("show", "Show a bottle and everything that happened to it.") { name, at, json };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            var darkroom = BookOptions.Books(store, surroundings);
            var books = await darkroom.OpenAsync(cancellationToken);
            var when = darkroom.When(parsed.GetValue(at));
            var bottle = Chosen.Bottle(books, parsed.GetValue(name), when, surroundings);
            BottleReport.WriteOne(surroundings.Out, books, books.At(bottle, when), surroundings.Time, parsed.GetValue(json));
            return ExitCode.Done;
        });
        return command;
    }

    /// <summary>A name may be used again once the bottle that bore it is out of use.</summary>
    private static void RefuseTwice(Ledger books, string name, DateTimeOffset at, Surroundings surroundings)
    {
        if (books.Bottles.FirstOrDefault(
            b => string.Equals(b.Name, name.Trim(), StringComparison.OrdinalIgnoreCase) && !(books.DiscardedAt(b) <= at)) is { } there)
        {
            throw new BenchException(
                $"Bottle {there.Name} is in use: {EntryText.Of(books, there)}, {Numbers.Moment(there.HappenedAt, surroundings.Time)}. "
                + $"Discard it first (acquire bottle discard {there.Name}), or give the new one another name.");
        }
    }

    private static Solution LastMix(Ledger books, DateTimeOffset at, Surroundings surroundings)
    {
        var mix = books.Solutions.LastOrDefault(s => s.HappenedAt <= at) ?? books.Solutions.LastOrDefault()
            ?? throw new BenchException("The books have no mix yet. Enter it first: acquire solution mix NAME 1L --process c41");
        surroundings.Error.Line($"Taken, since none was named: {mix.Name}.");
        return mix;
    }

    private static double Rest(Ledger books, Solution mix) =>
        mix.Volume - books.Bottles.Where(b => b.SolutionId == mix.Id).Sum(b => b.Volume) is > 0.0005 and var rest
            ? Math.Round(rest, 6)
            : throw new BenchException($"By the books all of {mix.Name} ({EntryText.Litres(mix.Volume)}) is in bottles already. Say how "
                + "much this one holds: --volume 500ml");
}

/// <summary>What happens to a bottle: <c>open</c>, <c>top-up</c>, <c>pour</c>, <c>store</c>, <c>discard</c>.</summary>
internal static class BottleEventCommands
{
    public static Command BuildOpen(Surroundings surroundings)
    {
        var name = Name();
        return Enters(new Command("open", "Enter that a bottle was opened.") { name }, surroundings, (parsed, bottle, stamp) =>
            new BottleEvent(stamp, bottle(parsed.GetValue(name)), BottleEventKind.Opened));
    }

    public static Command BuildTopUp(Surroundings surroundings) =>
        BuildVolume("top-up", "Enter that solution was added to a bottle." + BookOptions.Care, BottleEventKind.ToppedUp, surroundings);

    public static Command BuildPour(Surroundings surroundings) =>
        BuildVolume(
            "pour", "Enter that solution was taken out of a bottle for good." + BookOptions.Care, BottleEventKind.Poured, surroundings);

    public static Command BuildStore(Surroundings surroundings)
    {
        var name = Name();
        var storage = new StorageOptions();
        var command = new Command("store", "Enter that a bottle is kept in another way; what is not named stays as it was.") { name };
        storage.AddTo(command);
        return Enters(command, surroundings, (parsed, bottle, stamp) =>
        {
            var kept = storage.Of(parsed);
            return kept.IsEmpty
                ? throw new BenchException("Say what changed: --container, --holds, --gas, --stored, or more than one of them.")
                : new BottleEvent(stamp, bottle(parsed.GetValue(name)), BottleEventKind.StoredAnew, storage: kept);
        });
    }

    public static Command BuildDiscard(Surroundings surroundings)
    {
        var name = new Argument<string>("name") { Description = "The bottle.", HelpName = "NAME" };
        var reason = new Option<string?>("--reason") { Description = "Why.", HelpName = "TEXT" };
        var command = new Command(
            "discard",
            "Enter that a bottle was emptied for good; dispose of solutions by your local code." + BookOptions.Care) { name, reason };
        return Enters(command, surroundings, (parsed, bottle, stamp) =>
            new BottleEvent(stamp, bottle(parsed.GetValue(name)), BottleEventKind.Discarded) { Note = parsed.GetValue(reason) });
    }

    private static Argument<string?> Name() =>
        new("name") { Description = "The bottle; the one at hand when not given.", HelpName = "NAME", Arity = ArgumentArity.ZeroOrOne };

    private static Command BuildVolume(string word, string description, BottleEventKind kind, Surroundings surroundings)
    {
        var words = new Argument<string[]>("bottle-and-volume")
        {
            Description = "The bottle and how much, such as D7 300ml; the bottle at hand when only a volume is given.",
            HelpName = "[NAME] VOLUME",
            Arity = new ArgumentArity(1, 2),
        };
        return Enters(new Command(word, description) { words }, surroundings, (parsed, bottle, stamp) =>
        {
            var (name, volume) = parsed.GetRequiredValue(words) switch
            {
                [var only] => (null, only),
                [var first, var second] when Amounts.TryVolume(second) is null && Amounts.TryVolume(first) is not null => (second, first),
                [var first, var second] => ((string?)first, second),
                _ => throw new BenchException("Give the bottle and how much, such as D7 300ml."),
            };
            return new BottleEvent(stamp, bottle(name), kind, Amounts.Volume(volume));
        });
    }

    private static Command Enters(
        Command command, Surroundings surroundings, Func<ParseResult, Func<string?, Guid>, EntryStamp, BottleEvent> make) =>
        new BookOptions().Enters(
            command,
            surroundings,
            (parsed, books, input, cancellationToken) => books.EnterAsync(
                input,
                (ledger, at, stamp) => [make(parsed, name => Chosen.Bottle(ledger, name, at, surroundings).Id, stamp())],
                cancellationToken),
            (_, entered) => entered.Entries is [BottleEvent { Kind: not BottleEventKind.Discarded } e]
                ? EntryText.Line(entered.Books.At(entered.Books.Get<Bottle>(e.BottleId), e.HappenedAt))
                : null);
}

using Acquire.Bench.Books;

namespace Acquire.Commands.Books;

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

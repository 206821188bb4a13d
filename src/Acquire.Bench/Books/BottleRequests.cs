namespace Acquire.Bench.Books;

/// <summary>A mix to enter.</summary>
/// <param name="Volume">Litres.</param>
/// <param name="ProcessKey">Key of its process; null for that of the last mix, or of the lines where they are of one process.</param>
/// <param name="ConcentrateLot">As printed on the concentrate; null where not known.</param>
public sealed record MixRequest(string Name, SolutionKind Kind, double Volume, string? ProcessKey = null, string? ConcentrateLot = null)
    : BookRequest
{
    internal override IEnumerable<BookEntry> Make(BookDraft draft) =>
        draft.Books.Solutions.FirstOrDefault(s => BookNames.Same(s.Name, Name)) is { } there
            ? throw new BenchException($"There is a mix {there.Name} already. Give the new one a name of its own.")
            : [new Solution(draft.Stamp(), Name, Kind, ProcessKey ?? Usual(draft), Volume, ConcentrateLot)];

    private static string Usual(BookDraft draft)
    {
        var key = draft.Books.Solutions.LastOrDefault()?.ProcessKey
            ?? draft.Books.Lines.Select(l => l.ProcessKey).Distinct().ToList() switch
            {
                [var only] => only,
                _ => throw new BenchException("Which process? Name it, e.g. --process c41; later mixes take it from this one."),
            };
        draft.Take($"process {key}");
        return key;
    }
}

/// <summary>A bottle that was filled.</summary>
/// <param name="Name">Free, or that of a bottle that is out of use.</param>
public sealed record FillRequest(string Name) : BookRequest
{
    /// <summary>The mix; null for the last one.</summary>
    public string? Solution { get; init; }

    /// <summary>Litres; null for what is left of the mix.</summary>
    public double? Volume { get; init; }

    public BottleStorage Storage { get; init; } = new();

    /// <summary>Whether the bottle holds just what was filled in.</summary>
    public bool IsFull { get; init; }

    internal override IEnumerable<BookEntry> Make(BookDraft draft)
    {
        // The name on the glass stays when the solution goes, so only a bottle in use bars it.
        if (draft.Books.Bottles.FirstOrDefault(b => BookNames.Same(b.Name, Name) && !(draft.Books.DiscardedAt(b) <= draft.At)) is { } there)
        {
            throw new BenchException(
                $"Bottle {there.Name} is in use: {EntryText.Of(draft.Books, there)}, {Numbers.Moment(there.HappenedAt, draft.Time)}. "
                + $"Discard it first (acquire bottle discard {there.Name}), or give the new one another name.");
        }

        var mix = Solution is { } named ? BookNames.Solution(draft.Books, named) : LastMix(draft);
        var litres = Volume ?? Rest(draft.Books, mix);
        var storage = IsFull ? Storage.Then(new BottleStorage(capacity: litres)) : Storage;
        return [new Bottle(draft.Stamp(), Name, mix.Id, litres, storage)];
    }

    private static Solution LastMix(BookDraft draft)
    {
        var mix = draft.Books.Solutions.LastOrDefault(s => s.HappenedAt <= draft.At) ?? draft.Books.Solutions.LastOrDefault()
            ?? throw new BenchException("The books have no mix yet. Enter it first: acquire solution mix NAME 1L --process c41");
        draft.Take(mix.Name);
        return mix;
    }

    private static double Rest(Ledger books, Solution mix) =>
        mix.Volume - books.Bottles.Where(b => b.SolutionId == mix.Id).Sum(b => b.Volume) is > 0.0005 and var rest
            ? Math.Round(rest, 6)
            : throw new BenchException($"By the books all of {mix.Name} ({EntryText.Litres(mix.Volume)}) is in bottles already. Say how "
                + "much this one holds: --volume 500ml");
}

/// <summary>Something that happened to a bottle.</summary>
/// <param name="Bottle">The bottle; null for the one at hand.</param>
public sealed record BottleRequest(string? Bottle, BottleEventKind Kind) : BookRequest
{
    /// <summary>Litres, where some was poured or added.</summary>
    public double? Volume { get; init; }

    /// <summary>What is new about how it is kept, where it is stored anew.</summary>
    public BottleStorage? Storage { get; init; }

    /// <summary>Why; kept as the note where no other is given.</summary>
    public string? Reason { get; init; }

    internal override IEnumerable<BookEntry> Make(BookDraft draft) => Storage is { IsEmpty: true }
        ? throw new BenchException("Say what changed: --container, --holds, --gas, --stored, or more than one of them.")
        : [new BottleEvent(draft.Stamp(), draft.Bottle(Bottle).Id, Kind, Volume, Storage) { Note = Reason }];
}

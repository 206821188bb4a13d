namespace Acquire.Bench.Books;

/// <summary>An entry to take back; it stays, marked as withdrawn. Refused when there is none such, or when others rest on it.</summary>
/// <param name="Entry">A beginning or end of the entry's id; null for the last that stands.</param>
public sealed record UndoRequest(string? Entry, string Reason) : BookRequest
{
    internal override IEnumerable<BookEntry> Make(BookDraft draft)
    {
        var entry = Undoable(draft.Books, Entry);
        var resting = draft.Books.Dependents(entry.Id).Select(e => EntryText.Of(draft.Books, e)).ToList();
        return resting.Count == 0
            ? [new Withdrawal(draft.Stamp(), entry.Id, Reason)]
            : throw new BenchException($"Not taken back: {EntryText.Of(draft.Books, entry)}. Other entries rest on it; take them back "
                + $"first: {string.Join("; ", resting)}.");
    }

    private static BookEntry Undoable(Ledger books, string? part)
    {
        var standing = books.Standing.Select(e => e.Id).ToHashSet();
        if (part is null)
        {
            return books.Entered.LastOrDefault(e => standing.Contains(e.Id))
                ?? throw new BenchException("There is nothing in the books to take back.");
        }

        var wanted = part.Trim().Replace("-", "", StringComparison.Ordinal);
        var found = books.Entered.Where(e => wanted.Length >= StripId.FewestDigits && StripId.Fits(e.Id.ToString("N"), wanted)).ToList();
        return found switch
        {
            [Withdrawal] => throw new BenchException($"{part} is a withdrawal itself; enter again what it took back."),
            [var one] when !standing.Contains(one.Id) => throw new BenchException($"Taken back already: {EntryText.Of(books, one)}."),
            [var one] => one,
            [] => throw new BenchException($"There is no entry {part}. See: acquire event list --all") { IsNotThere = true },
            _ => throw new BenchException($"'{part}' fits more than one entry; give more of its end."),
        };
    }
}

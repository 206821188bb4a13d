namespace Acquire.Bench.Books;

/// <summary>Film that was processed.</summary>
public sealed record UseRequest(ImmutableArray<FilmCount> Films) : BookRequest
{
    /// <summary>The bottles it went through; empty for those used last.</summary>
    public ImmutableArray<string> Bottles { get; init; } = [];

    /// <summary>The line; null for the one used last.</summary>
    public string? Line { get; init; }

    internal override IEnumerable<BookEntry> Make(BookDraft draft)
    {
        if (Films.IsEmpty)
        {
            throw new BenchException("Say what was processed, e.g. acquire use 2x135-36 120, or an area: acquire use 0.2m2");
        }

        var (bottles, line) = Through(draft);
        return [new FilmUse(draft.Stamp(), Films, [.. bottles.Select(b => b.Id)], line?.Id)];
    }

    /// <summary>What is named, and for what is not, what was used last. Who names one of the two may leave the other out.</summary>
    private (ImmutableArray<Bottle> Bottles, ProcessLine? Line) Through(BookDraft draft)
    {
        var (books, at) = (draft.Books, draft.At);
        var usual = LastUsed.Of(books, at);
        ImmutableArray<Bottle> bottles = !Bottles.IsEmpty
            ? [.. Bottles.Select(b => BookNames.Bottle(books, b, at)).Distinct()]
            : usual.IsWhole ? usual.Bottles : [];
        var line = Line is null ? usual.Line : BookNames.Line(books, Line);
        var inUse = BookNames.InUse(books.BottlesInUse(at).Select(b => b.Name), "acquire bottle fill NAME");

        // Area on a wrong bottle is never seen again, so nothing is guessed by half.
        if (Bottles.IsEmpty && Line is null && !usual.IsWhole)
        {
            throw new BenchException(
                "Which bottles? Not every bottle of the last use is clear any more, so name them with --bottle, or only the line with "
                + $"--line. {inUse}");
        }

        if (bottles.IsEmpty && Line is null && (books.BottlesInUse(at).Any() || line is null))
        {
            throw new BenchException($"Which bottle? Name it with --bottle, or the line with --line. {inUse}");
        }

        string[] taken =
        [
            .. Bottles.IsEmpty && !bottles.IsEmpty ? [$"bottle {string.Join(", ", bottles.Select(b => b.Name))}"] : (string[])[],
            .. Line is null && line is not null ? [$"line {line.Name}"] : (string[])[],
        ];
        if (taken.Length > 0)
        {
            draft.Take(string.Join(", ", taken));
        }

        if (bottles.IsEmpty)
        {
            draft.Tell("No bottle was named and none is at hand, so this counts for the line only.");
        }

        return (bottles, line);
    }
}

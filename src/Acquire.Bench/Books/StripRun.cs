namespace Acquire.Bench.Books;

/// <summary>The line and the bottle that a strip about to be read ran in, as far as the books know them.</summary>
/// <param name="LineName">For the strip's record: the name in the books, or the user's own word.</param>
/// <param name="BottleName">The same of the bottle of developer.</param>
/// <param name="Line">The line; null when the books have none such.</param>
/// <param name="Bottles">The bottle of developer and those used with it; empty when the books have none such.</param>
/// <param name="Messages">What was taken because nothing was named, and names that the books do not have.</param>
public sealed record StripRun(
    string? LineName, string? BottleName, ProcessLine? Line, ImmutableArray<Bottle> Bottles, ImmutableArray<string> Messages)
{
    /// <summary>Finds out what a strip ran in.</summary>
    /// <param name="books">The books.</param>
    /// <param name="processKey">Process of the strip's lot; what is taken unnamed is of this process.</param>
    /// <param name="line">The line as the user names it; null when not.</param>
    /// <param name="bottle">The bottle of developer as the user names it; null when not.</param>
    /// <param name="at">When the strip ran.</param>
    public static StripRun Of(Ledger books, string processKey, string? line, string? bottle, DateTimeOffset at)
    {
        var messages = new List<string>();
        var usual = LastUsed.Of(books, at, processKey);
        var knownLine = line is null ? usual.Line : BookNames.TryLine(books, line);
        var developer = bottle is null
            ? usual.Bottles.Where(b => books.SolutionIn(b).IsDeveloper).ToList() is [var only] ? only : null
            : BookNames.TryBottle(books, bottle, at);
        if (line is not null && knownLine is null && books.Lines.Any())
        {
            messages.Add(Unknown("line", line, books.Lines.Select(l => l.Name)));
        }

        if (bottle is not null && developer is null && books.Bottles.Any())
        {
            messages.Add(Unknown("bottle", bottle, books.Bottles.Select(b => b.Name)));
        }

        var taken = string.Join(", ", new[]
        {
            line is null && knownLine is not null ? $"line {knownLine.Name}" : null,
            bottle is null && developer is not null ? $"bottle {developer.Name}" : null,
        }.OfType<string>());
        if (taken.Length > 0)
        {
            messages.Add($"Taken, since none was named: {taken}. Name others with --line and --bottle.");
        }

        return new StripRun(
            knownLine?.Name ?? line,
            developer?.Name ?? bottle,
            knownLine,
            developer is null ? [] : [developer, .. usual.Bottles.Contains(developer) ? usual.Bottles.Where(b => b.Id != developer.Id) : []],
            [.. messages]);
    }

    /// <summary>
    /// What the books gain by a strip: its own area through the bottles and the line, and one strip less of its lot where its stock is kept.
    /// </summary>
    public IEnumerable<BookEntry> Entries(Ledger books, string lotCode, Guid stripId, Func<EntryStamp> stamp)
    {
        if (Line is not null || !Bottles.IsEmpty)
        {
            yield return new FilmUse(stamp(), [FilmCount.Of(FilmFormat.ControlStrip)], [.. Bottles.Select(b => b.Id)], Line?.Id, stripId);
        }

        if (books.StockedLots.Contains(lotCode, StringComparer.OrdinalIgnoreCase))
        {
            yield return new StockMove(stamp(), lotCode, StockMoveKind.Used, 1, stripId);
        }
    }

    private static string Unknown(string what, string name, IEnumerable<string> names)
    {
        var near = BookNames.Near(name, names);
        return $"The books have no {what} '{name}'{(near.IsEmpty ? "" : $"; did you mean {string.Join(" or ", near)}?")} The strip keeps the name as you gave it.";
    }
}

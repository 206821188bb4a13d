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
    /// <param name="processKey">Process of the strip's lot; what is taken unnamed is of this process.</param>
    /// <param name="line">The line as the user names it; null when not.</param>
    /// <param name="bottle">The bottle of developer as the user names it; null when not.</param>
    /// <param name="at">When the strip ran.</param>
    /// <param name="fillLine">
    /// Whether a line that is not named is the one used last; not so once the strip's record, or the user, says that there is none.
    /// </param>
    /// <param name="fillBottle">The same of the bottle.</param>
    public static StripRun Of(
        Ledger books, string processKey, string? line, string? bottle, DateTimeOffset at, bool fillLine = true, bool fillBottle = true)
    {
        // Names that the books lack are kept as typed: a strip must be readable before the books are in order.
        var messages = new List<string>();
        var usual = LastUsed.Of(books, at, processKey);
        var knownLine = line is null ? fillLine ? usual.Line : null : BookNames.TryLine(books, line);
        var developer = bottle is null
            ? !fillBottle ? null : usual.Bottles.Where(b => books.SolutionIn(b).IsDeveloper).ToList() is [var only] ? only : null
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
            developer is null
                ? []
                : [developer, .. usual.Bottles.Contains(developer) ? usual.Bottles.Where(b => b.Id != developer.Id) : []],
            [.. messages]);
    }

    /// <summary>
    /// What the books gain by a strip: its own area through the bottles and the line, and one strip less of its lot where its stock is
    /// kept.
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
        return $"The books have no {what} '{name}'{(near.IsEmpty ? "" : $"; did you mean {string.Join(" or ", near)}?")} The strip "
            + "keeps the name as you gave it.";
    }
}

/// <summary>What the books say about a strip's bottle, line and lot at the time it ran. Computed whenever it is asked for, so that entries
/// dated back count.</summary>
/// <param name="RanAt">When the strip ran: as entered, or else when it was read.</param>
/// <param name="Bottle">The bottle of developer, without the strip's own area; null when the books do not know it.</param>
/// <param name="Line">The line with the method then in force; null when the books do not know it.</param>
/// <param name="Stock">The strips of its lot; null when they are not counted.</param>
/// <param name="DaysToExpiry">Days to the lot's last day; null when it is not known.</param>
public sealed record StripContext(DateTimeOffset RanAt, BottleState? Bottle, LineState? Line, StockState? Stock, int? DaysToExpiry)
{
    /// <summary>Looks a strip up in the books; null when they know nothing of it.</summary>
    public static StripContext? Of(Ledger books, StripRecord strip, StripLot? lot, TimeZoneInfo zone)
    {
        // The entry made with the strip tells more than the name in its record: names are borne by one bottle after another.
        var use = books.Uses.LastOrDefault(u => u.StripId == strip.Id);
        var move = books.Standing.OfType<StockMove>().LastOrDefault(m => m.StripId == strip.Id);
        var ranAt = use?.HappenedAt ?? move?.HappenedAt ?? strip.Provenance.At;
        var bottle = strip.Tags.Bottle is { } name ? Used(books, use, name) ?? BookNames.TryBottle(books, name, ranAt) : null;
        var line = strip.Tags.Line is { } word ? BookNames.TryLine(books, word) : null;
        var stock = books.StockAt(strip.LotCode, ranAt);
        return bottle is null && line is null && !stock.IsKept
            ? null
            : new StripContext(
                ranAt,
                bottle is null ? null : books.At(bottle, ranAt, exceptStrip: strip.Id),
                line is null ? null : books.At(line, ranAt),
                stock.IsKept ? stock : null,
                StockState.DaysToExpiry(lot?.Expires, DateOnly.FromDateTime(TimeZoneInfo.ConvertTime(ranAt, zone).DateTime)));
    }

    /// <summary>The bottle of this name that was entered with the strip; of several that bore the name, it is the right one.</summary>
    private static Bottle? Used(Ledger books, FilmUse? use, string name) =>
        use?.BottleIds.Select(books.Get<Bottle>).FirstOrDefault(b => BookNames.Same(b.Name, name));
}

/// <summary>
/// What is meant when nothing is named: the bottles and the line of the last use. A use of the same session is taken as it is; an older one
/// only for what nothing else of its kind could be meant by.
/// </summary>
/// <param name="Bottles">The bottles; empty when it is not clear.</param>
/// <param name="Line">The line; null when it is not clear.</param>
/// <param name="IsWhole">Whether every bottle of the last use is there, or the only one that took its place.</param>
public sealed record LastUsed(ImmutableArray<Bottle> Bottles, ProcessLine? Line, bool IsWhole)
{
    /// <summary>How long a use counts as one of the same session.</summary>
    public static readonly TimeSpan Session = TimeSpan.FromHours(12);

    /// <summary>What was used last before a moment.</summary>
    public static LastUsed Of(Ledger books, DateTimeOffset at, string? processKey = null)
    {
        // A guess that is wrong puts film area on the wrong bottle unseen, so nothing is guessed where two could be meant.
        var inUse = books.BottlesInUse(at).Where(b => Fits(books.SolutionIn(b).ProcessKey)).ToImmutableArray();
        var lines = books.Lines.Where(l => Fits(l.ProcessKey)).ToImmutableArray();
        var uses = books.Uses.Where(u => u.HappenedAt <= at).Reverse().ToList();
        var lastOfBottles = uses.FirstOrDefault(u => u.BottleIds.Any(b => Fits(Mix(books.Get<Bottle>(b)).ProcessKey)));
        var lastOfLines = uses.FirstOrDefault(u => lines.Any(l => u.LineId == l.Id));

        var bottles = lastOfBottles is null
            ? inUse.Length == 1 ? [inUse[0]] : ImmutableArray<Bottle?>.Empty
            : lastOfBottles.BottleIds.Select(books.Get<Bottle>).Select(b => Meant(b, IsSession(lastOfBottles))).ToImmutableArray();
        var line = lastOfLines is not null && (IsSession(lastOfLines) || lines.Length == 1)
            ? lines.First(l => l.Id == lastOfLines.LineId)
            : lines.Length == 1 ? lines[0] : null;
        return new LastUsed([.. bottles.OfType<Bottle>().Distinct()], line, !bottles.Contains(null));

        // A bottle of the session itself, or else the only one that does the same.
        Bottle? Meant(Bottle used, bool session) => session && inUse.Contains(used) ? used
            : inUse.Where(b => (Mix(b).Kind, Mix(b).ProcessKey) == (Mix(used).Kind, Mix(used).ProcessKey)).ToList() is [var only]
                ? only
                : null;

        Solution Mix(Bottle bottle) => books.SolutionIn(bottle);
        bool Fits(string key) => processKey is null || BookNames.Same(key, processKey);
        bool IsSession(FilmUse use) => at - use.HappenedAt <= Session;
    }

    /// <summary>
    /// The one bottle at hand at a moment: that of the last entry of the session, or else the only one in use; null when it is not clear.
    /// </summary>
    public static Bottle? AtHand(Ledger books, DateTimeOffset at)
    {
        var inUse = books.BottlesInUse(at).ToList();
        var last = books.Standing
            .Where(e => e.HappenedAt <= at && at - e.HappenedAt <= Session)
            .Select(e => BottleIds(e).Select(id => inUse.Find(b => b.Id == id)).OfType<Bottle>().ToList())
            .LastOrDefault(b => b.Count > 0);
        return last is [var one] ? one : last is null && inUse is [var only] ? only : null;

        static IEnumerable<Guid> BottleIds(BookEntry entry) => entry switch
        {
            Bottle bottle => [bottle.Id],
            BottleEvent happened => [happened.BottleId],
            FilmUse use => use.BottleIds,
            _ => [],
        };
    }
}

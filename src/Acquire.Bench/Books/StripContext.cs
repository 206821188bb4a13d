namespace Acquire.Bench.Books;

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
        var use = books.Uses.LastOrDefault(u => u.StripId == strip.Id);
        var move = books.Standing.OfType<StockMove>().LastOrDefault(m => m.StripId == strip.Id);
        var ranAt = use?.HappenedAt ?? move?.HappenedAt ?? strip.Provenance.At;
        var bottle = strip.Bottle is { } name ? Used(books, use, name) ?? BookNames.TryBottle(books, name, ranAt) : null;
        var line = strip.Line is { } word ? BookNames.TryLine(books, word) : null;
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

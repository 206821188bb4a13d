namespace Acquire.Storage.Books;

/// <summary>Reads the books, kind by kind, and brings them into the order of entry.</summary>
internal static class EntryLoader
{
    public static List<BookEntry> Load(Db db)
    {
        var films = db.Query<FilmRow>("SELECT * FROM film_use_film ORDER BY entry_id, position")
            .ToLookup(r => r.EntryId, r => new FilmCount(r.Format, r.Count, r.AreaEach), StringComparer.Ordinal);
        var bottles = db.Query<UsedBottleRow>("SELECT * FROM film_use_bottle ORDER BY entry_id, position")
            .ToLookup(r => r.EntryId, r => Sql.Id(r.BottleId), StringComparer.Ordinal);
        IEnumerable<(long Sequence, BookEntry Entry)> entries =
        [
            .. Rows<LineRow>(db, "process_line", r => new ProcessLine(r.Stamp, r.Name, Words<LineKind>.Parse(r.Kind), r.ProcessKey)),
            .. Rows<MethodRow>(db, "line_method", r => new LineMethod(
                r.Stamp, Sql.Id(r.LineId), r.Agitation, r.Temperature, r.Seconds is { } s ? TimeSpan.FromSeconds(s) : null)),
            .. Rows<SolutionRow>(db, "solution", r => new Solution(
                r.Stamp, r.Name, Words<SolutionKind>.Parse(r.Kind), r.ProcessKey, r.Volume, r.ConcentrateLot)),
            .. Rows<BottleRow>(db, "bottle", r => new Bottle(r.Stamp, r.Name, Sql.Id(r.SolutionId), r.Volume!.Value, r.Storage)),
            .. Rows<BottleEventRow>(db, "bottle_event", r => new BottleEvent(
                r.Stamp, Sql.Id(r.BottleId), Words<BottleEventKind>.Parse(r.Kind), r.Volume, r.Storage is { IsEmpty: false } ? r.Storage : null)),
            .. Rows<UseRow>(db, "film_use", r => new FilmUse(
                r.Stamp, [.. films[r.Id]], [.. bottles[r.Id]], Sql.OptionalId(r.LineId), Sql.OptionalId(r.StripId))),
            .. Rows<MoveRow>(db, "stock_move", r => new StockMove(
                r.Stamp, r.LotCode, Words<StockMoveKind>.Parse(r.Kind), r.Strips, Sql.OptionalId(r.StripId))),
            .. Rows<EventRow>(db, "book_event", r => new BookEvent(
                r.Stamp, Words<BookEventKind>.Parse(r.Kind), r.Text, Sql.OptionalId(r.LineId), Sql.OptionalId(r.BottleId))),
            .. Rows<WithdrawalRow>(db, "withdrawal", r => new Withdrawal(r.Stamp, Sql.Id(r.WithdrawnId), r.Reason)),
        ];
        return [.. entries.OrderBy(e => e.Sequence).Select(e => e.Entry)];
    }

    private static IEnumerable<(long Sequence, BookEntry Entry)> Rows<TRow>(Db db, string table, Func<TRow, BookEntry> make)
        where TRow : EntryRow => db.Query<TRow>(
            $"""
            SELECT what.*, e.sequence, e.id, e.happened_at, e.entered_at, e.entered_by, e.note
            FROM {table} AS what JOIN book_entry AS e ON e.id = what.entry_id
            """).Select(r => (r.Sequence, make(r) with { Note = r.Note }));
}

namespace Acquire.Storage.Records;

/// <summary>Reads the books, kind by kind, and brings them into the order of entry.</summary>
internal static class EntryLoader
{
    public static List<BookEntry> Load(Db db)
    {
        // A table for each kind keeps every column meaningful; the sequence of book_entry brings the kinds back into one order.
        var films = db.Query<FilmRow>("SELECT * FROM film_use_film ORDER BY entry_id, position")
            .ToLookup(r => r.EntryId, r => new FilmCount(r.Format, r.Count, r.AreaEach), StringComparer.Ordinal);
        var bottles = db.Query<UsedBottleRow>("SELECT * FROM film_use_bottle ORDER BY entry_id, position")
            .ToLookup(r => r.EntryId, r => Sql.Id(r.BottleId), StringComparer.Ordinal);
        var sound = db.Sound(SealedRecord.Entry, db.Query<long>("SELECT sequence FROM book_entry"), sequence => sequence).ToHashSet();
        IEnumerable<(long Sequence, BookEntry Entry)> entries =
        [
            .. Rows<LineRow>("process_line", r => new ProcessLine(r.Stamp, r.Name, Words<LineKind>.Parse(r.Kind), r.ProcessKey)),
            .. Rows<MethodRow>("line_method", r => new LineMethod(
                r.Stamp, Sql.Id(r.LineId), r.Agitation, r.Temperature, r.Seconds is { } s ? TimeSpan.FromSeconds(s) : null)),
            .. Rows<SolutionRow>("solution", r => new Solution(
                r.Stamp, r.Name, Words<SolutionKind>.Parse(r.Kind), r.ProcessKey, r.Volume, r.ConcentrateLot)),
            .. Rows<BottleRow>("bottle", r => new Bottle(r.Stamp, r.Name, Sql.Id(r.SolutionId), r.Volume!.Value, r.Storage)),
            .. Rows<BottleEventRow>("bottle_event", r => new BottleEvent(
                r.Stamp,
                Sql.Id(r.BottleId), Words<BottleEventKind>.Parse(r.Kind), r.Volume, r.Storage is { IsEmpty: false } ? r.Storage : null)),
            .. Rows<UseRow>("film_use", r => new FilmUse(
                r.Stamp, [.. films[r.Id]], [.. bottles[r.Id]], Sql.OptionalId(r.LineId), Sql.OptionalId(r.StripId))),
            .. Rows<MoveRow>("stock_move", r => new StockMove(
                r.Stamp, r.LotCode, Words<StockMoveKind>.Parse(r.Kind), r.Strips, Sql.OptionalId(r.StripId))),
            .. Rows<EventRow>("book_event", r => new BookEvent(
                r.Stamp, Words<BookEventKind>.Parse(r.Kind), r.Text, Sql.OptionalId(r.LineId), Sql.OptionalId(r.BottleId))),
            .. Rows<WithdrawalRow>("withdrawal", r => new Withdrawal(r.Stamp, Sql.Id(r.WithdrawnId), r.Reason)),
        ];
        return [.. entries.OrderBy(e => e.Sequence).Select(e => e.Entry)];

        // An entry of which the half is gone is asked for its seals too, and so told: a plain JOIN would lose it without a word.
        IEnumerable<(long Sequence, BookEntry Entry)> Rows<TRow>(string table, Func<TRow, BookEntry> make)
            where TRow : EntryRow => db.Sound(
                SealedRecord.OfEntry(table),
                db.Query<TRow>(
                    $"""
                    SELECT what.*, e.sequence, e.id, e.happened_at, e.entered_at, e.entered_by, e.note
                    FROM book_entry AS e LEFT JOIN {table} AS what ON what.entry_id = e.id WHERE e.kind = @table
                    """,
                    new { table }).FindAll(r => sound.Contains(r.Sequence)),
                r => r.Id).Select(r => (r.Sequence, make(r) with { Note = r.Note }));
    }
}

/// <summary>A row of <c>book_entry</c>, joined with one of the table of its kind.</summary>
internal record EntryRow
{
    public long Sequence { get; init; }

    public string Id { get; init; } = "";

    public string HappenedAt { get; init; } = "";

    public string EnteredAt { get; init; } = "";

    public string EnteredBy { get; init; } = "";

    public string? Note { get; init; }

    public EntryStamp Stamp => new(Sql.Id(Id), Sql.Time(HappenedAt), Sql.Time(EnteredAt), EnteredBy);
}

internal sealed record LineRow : EntryRow
{
    public string Name { get; init; } = "";

    public string Kind { get; init; } = "";

    public string ProcessKey { get; init; } = "";
}

internal sealed record MethodRow : EntryRow
{
    public string LineId { get; init; } = "";

    public string? Agitation { get; init; }

    public double? Temperature { get; init; }

    public double? Seconds { get; init; }
}

internal sealed record SolutionRow : EntryRow
{
    public string Name { get; init; } = "";

    public string Kind { get; init; } = "";

    public string ProcessKey { get; init; } = "";

    public double Volume { get; init; }

    public string? ConcentrateLot { get; init; }
}

/// <summary>What a bottle and what happens to it have in common.</summary>
internal record StorageRow : EntryRow
{
    public double? Volume { get; init; }

    public string? Container { get; init; }

    public double? Capacity { get; init; }

    public string? Gas { get; init; }

    public double? Temperature { get; init; }

    public BottleStorage Storage => new(Container, Capacity, Gas, Temperature);
}

internal sealed record BottleRow : StorageRow
{
    public string Name { get; init; } = "";

    public string SolutionId { get; init; } = "";
}

internal sealed record BottleEventRow : StorageRow
{
    public string BottleId { get; init; } = "";

    public string Kind { get; init; } = "";
}

internal sealed record UseRow : EntryRow
{
    public string? LineId { get; init; }

    public string? StripId { get; init; }
}

internal sealed record FilmRow
{
    public string EntryId { get; init; } = "";

    public string Format { get; init; } = "";

    public int Count { get; init; }

    public double AreaEach { get; init; }
}

internal sealed record UsedBottleRow
{
    public string EntryId { get; init; } = "";

    public string BottleId { get; init; } = "";
}

internal sealed record MoveRow : EntryRow
{
    public string LotCode { get; init; } = "";

    public string Kind { get; init; } = "";

    public int Strips { get; init; }

    public string? StripId { get; init; }
}

internal sealed record EventRow : EntryRow
{
    public string Kind { get; init; } = "";

    public string Text { get; init; } = "";

    public string? LineId { get; init; }

    public string? BottleId { get; init; }
}

internal sealed record WithdrawalRow : EntryRow
{
    public string WithdrawnId { get; init; } = "";

    public string Reason { get; init; } = "";
}

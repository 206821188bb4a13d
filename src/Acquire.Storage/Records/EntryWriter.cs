namespace Acquire.Storage.Records;

/// <summary>Writes an entry: its row in <c>book_entry</c>, then what it says into the table of its kind.</summary>
internal static class EntryWriter
{
    public static void Add(Db db, BookEntry entry)
    {
        EntryRequirements.Check(db, entry);
        var (id, at, entered, by) = (Sql.Id(entry.Id), Sql.Time(entry.HappenedAt), Sql.Time(entry.Stamp.EnteredAt), entry.Stamp.By);
        _ = db.Insert(
            "book_entry", new { id, Kind = KindOf(entry), HappenedAt = at, EnteredAt = entered, EnteredBy = by, entry.Note });
        switch (entry)
        {
            case ProcessLine line:
                _ = db.Insert("process_line", new { EntryId = id, line.Name, Kind = Words<LineKind>.Of(line.Kind), line.ProcessKey });
                break;
            case LineMethod method:
                _ = db.Insert("line_method", new
                {
                    EntryId = id,
                    LineId = Sql.Id(method.LineId),
                    method.Agitation,
                    method.Temperature,
                    Seconds = method.Time?.TotalSeconds,
                });
                break;
            case Solution mix:
                _ = db.Insert("solution", new
                {
                    EntryId = id,
                    mix.Name,
                    Kind = Words<SolutionKind>.Of(mix.Kind),
                    mix.ProcessKey,
                    mix.Volume,
                    mix.ConcentrateLot,
                });
                break;
            case Bottle bottle:
                _ = db.Insert("bottle", new
                {
                    EntryId = id,
                    bottle.Name,
                    SolutionId = Sql.Id(bottle.SolutionId),
                    bottle.Volume,
                    bottle.Storage.Container,
                    bottle.Storage.Capacity,
                    bottle.Storage.Gas,
                    bottle.Storage.Temperature,
                });
                break;
            case BottleEvent happened:
                _ = db.Insert("bottle_event", new
                {
                    EntryId = id,
                    BottleId = Sql.Id(happened.BottleId),
                    Kind = Words<BottleEventKind>.Of(happened.Kind),
                    happened.Volume,
                    happened.Storage?.Container,
                    happened.Storage?.Capacity,
                    happened.Storage?.Gas,
                    happened.Storage?.Temperature,
                });
                break;
            case FilmUse use:
                AddUse(db, id, use);
                break;
            case StockMove move:
                _ = db.Insert("stock_move", new
                {
                    EntryId = id,
                    move.LotCode,
                    Kind = Words<StockMoveKind>.Of(move.Kind),
                    move.Strips,
                    StripId = Sql.Id(move.StripId),
                });
                break;
            case BookEvent happened:
                _ = db.Insert("book_event", new
                {
                    EntryId = id,
                    Kind = Words<BookEventKind>.Of(happened.Kind),
                    happened.Text,
                    LineId = Sql.Id(happened.LineId),
                    BottleId = Sql.Id(happened.BottleId),
                });
                break;
            case Withdrawal withdrawal:
                _ = db.Insert("withdrawal", new { EntryId = id, WithdrawnId = Sql.Id(withdrawal.WithdrawnId), withdrawal.Reason });
                break;
            default:
                throw new InvalidOperationException($"No table for {entry.GetType().Name}.");
        }
    }

    /// <summary>The table that says what an entry of this type says.</summary>
    private static string KindOf(BookEntry entry) => System.Text.Json.JsonNamingPolicy.SnakeCaseLower.ConvertName(entry.GetType().Name);

    private static void AddUse(Db db, string entryId, FilmUse use)
    {
        _ = db.Insert("film_use", new { entryId, LineId = Sql.Id(use.LineId), StripId = Sql.Id(use.StripId) });
        db.InsertAll("film_use_film", use.Films.Select((f, i) => new { entryId, Position = i + 1, f.Format, f.Count, f.AreaEach }));
        db.InsertAll("film_use_bottle", use.BottleIds.Select((b, i) => new { entryId, Position = i + 1, BottleId = Sql.Id(b) }));
    }
}

/// <summary>What an entry refers to must be there, and said in the user's words when it is not.</summary>
internal static class EntryRequirements
{
    public static void Check(Db db, BookEntry entry)
    {
        if (db.Exists("SELECT 1 FROM book_entry WHERE id = @id", new { id = Sql.Id(entry.Id) }))
        {
            throw new StoreException(StoreFault.Duplicate, $"Entry {entry.Id} is in the books already.");
        }

        foreach (var id in entry.RefersTo)
        {
            if (!db.Exists("SELECT 1 FROM book_entry WHERE id = @id", new { id = Sql.Id(id) }))
            {
                throw new StoreException(StoreFault.NotFound, $"There is no entry {id} in the books.");
            }
        }

        switch (entry)
        {
            case Withdrawal withdrawal when db.Exists(
                "SELECT 1 FROM withdrawal WHERE withdrawn_id = @id", new { id = Sql.Id(withdrawal.WithdrawnId) }):
                throw new StoreException(StoreFault.Duplicate, $"Entry {withdrawal.WithdrawnId} is withdrawn already.");
            case StockMove move:
                Requirements.Lot(db, move.LotCode);
                Strip(db, move.StripId);
                break;
            case FilmUse use:
                Strip(db, use.StripId);
                break;
        }
    }

    private static void Strip(Db db, Guid? id)
    {
        if (id is { } strip && !db.Exists("SELECT 1 FROM strip WHERE id = @id", new { id = Sql.Id(strip) }))
        {
            throw new StoreException(StoreFault.NotFound, $"There is no strip {strip}.");
        }
    }
}

namespace Acquire.Storage.Records;

/// <summary>Writes an entry: its row in <c>book_entry</c>, then what it says into the table of its kind.</summary>
internal static class EntryWriter
{
    public static void Add(Db db, BookEntry entry)
    {
        EntryRequirements.Check(db, entry);
        var (id, at, entered, by) = (Sql.Id(entry.Id), Sql.Time(entry.HappenedAt), Sql.Time(entry.Stamp.EnteredAt), entry.Stamp.By);
        _ = db.Execute(
            "INSERT INTO book_entry (id, kind, happened_at, entered_at, entered_by, note) VALUES (@id, @kind, @at, @entered, @by, @Note)",
            new { id, kind = KindOf(entry), at, entered, by, entry.Note });
        switch (entry)
        {
            case ProcessLine line:
                Insert(db, "process_line", new { id, line.Name, Kind = Words<LineKind>.Of(line.Kind), process_key = line.ProcessKey });
                break;
            case LineMethod method:
                Insert(db, "line_method", new
                {
                    id,
                    line_id = Sql.Id(method.LineId),
                    method.Agitation,
                    method.Temperature,
                    seconds = method.Time?.TotalSeconds,
                });
                break;
            case Solution mix:
                Insert(db, "solution", new
                {
                    id,
                    mix.Name,
                    Kind = Words<SolutionKind>.Of(mix.Kind),
                    process_key = mix.ProcessKey,
                    mix.Volume,
                    concentrate_lot = mix.ConcentrateLot,
                });
                break;
            case Bottle bottle:
                Insert(db, "bottle", new
                {
                    id,
                    bottle.Name,
                    solution_id = Sql.Id(bottle.SolutionId),
                    bottle.Volume,
                    bottle.Storage.Container,
                    bottle.Storage.Capacity,
                    bottle.Storage.Gas,
                    bottle.Storage.Temperature,
                });
                break;
            case BottleEvent happened:
                Insert(db, "bottle_event", new
                {
                    id,
                    bottle_id = Sql.Id(happened.BottleId),
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
                Insert(db, "stock_move", new
                {
                    id,
                    lot_code = move.LotCode,
                    Kind = Words<StockMoveKind>.Of(move.Kind),
                    move.Strips,
                    strip_id = Sql.Id(move.StripId),
                });
                break;
            case BookEvent happened:
                Insert(db, "book_event", new
                {
                    id,
                    Kind = Words<BookEventKind>.Of(happened.Kind),
                    happened.Text,
                    line_id = Sql.Id(happened.LineId),
                    bottle_id = Sql.Id(happened.BottleId),
                });
                break;
            case Withdrawal withdrawal:
                Insert(db, "withdrawal", new { id, withdrawn_id = Sql.Id(withdrawal.WithdrawnId), withdrawal.Reason });
                break;
            default:
                throw new InvalidOperationException($"No table for {entry.GetType().Name}.");
        }
    }

    /// <summary>The table that says what an entry of this type says.</summary>
    private static string KindOf(BookEntry entry) => System.Text.Json.JsonNamingPolicy.SnakeCaseLower.ConvertName(entry.GetType().Name);

    private static void AddUse(Db db, string id, FilmUse use)
    {
        Insert(db, "film_use", new { id, line_id = Sql.Id(use.LineId), strip_id = Sql.Id(use.StripId) });
        _ = db.Execute(
            "INSERT INTO film_use_film (entry_id, position, format, count, area_each) VALUES (@id, @Position, @Format, @Count, @AreaEach)",
            use.Films.Select((f, i) => new { id, Position = i + 1, f.Format, f.Count, f.AreaEach }));
        _ = db.Execute(
            "INSERT INTO film_use_bottle (entry_id, position, bottle_id) VALUES (@id, @Position, @Bottle)",
            use.BottleIds.Select((b, i) => new { id, Position = i + 1, Bottle = Sql.Id(b) }));
    }

    /// <summary>Inserts the values by their names; <c>id</c> goes to <c>entry_id</c>.</summary>
    private static void Insert<T>(Db db, string table, T values)
    {
        var names = typeof(T).GetProperties().Select(p => p.Name).ToList();
        var columns = names.Select(n => n == "id" ? "entry_id" : n.ToLowerInvariant());
        _ = db.Execute(
            $"INSERT INTO {table} ({string.Join(", ", columns)}) VALUES ({string.Join(", ", names.Select(n => "@" + n))})", values);
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

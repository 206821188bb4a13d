namespace Acquire.Storage.Books;

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
            case Withdrawal withdrawal when db.Exists("SELECT 1 FROM withdrawal WHERE withdrawn_id = @id", new { id = Sql.Id(withdrawal.WithdrawnId) }):
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

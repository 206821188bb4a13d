namespace Acquire.Storage.Rows;

/// <summary>What an entry refers to must be there; said in the user's words before a foreign key says it in SQLite's.</summary>
internal static class Requirements
{
    public static void Lot(Db db, string code)
    {
        if (!db.Exists("SELECT 1 FROM lot WHERE code = @code", new { code }))
        {
            throw new StoreException(StoreFault.NotFound, $"There is no lot '{code}'. Add it first, or check the code number on the box.");
        }
    }

    public static void Plaque(Db db, string name)
    {
        if (!db.Exists("SELECT 1 FROM plaque WHERE name = @name", new { name }))
        {
            throw new StoreException(StoreFault.NotFound, $"There is no plaque '{name}'. Add it first: acquire plaque add NAME");
        }
    }

    public static void Check(Db db, Guid id)
    {
        if (!db.Exists("SELECT 1 FROM calibration_check WHERE id = @id", new { id = Sql.Id(id) }))
        {
            throw new StoreException(StoreFault.NotFound, $"There is no calibration check {id}.");
        }
    }

    public static void Session(Db db, Guid id)
    {
        if (!db.Exists("SELECT 1 FROM bench_session WHERE id = @id", new { id = Sql.Id(id) }))
        {
            throw new StoreException(StoreFault.NotFound, $"There is no bench session {id}.");
        }
    }

    /// <summary>A first revision is number 1, a correction one more than the newest.</summary>
    public static void NextRevision(string what, Guid id, int? newest, int given)
    {
        var expected = (newest ?? 0) + 1;
        if (given != expected)
        {
            throw new StoreException(StoreFault.Conflict, newest is null
                ? $"{what} {id} is not in the store, so its first revision must be 1, not {given}."
                : $"{what} {id} has revision {newest}, so the next must be {expected}, not {given}. Read it again and repeat the "
                    + $"correction.");
        }
    }
}

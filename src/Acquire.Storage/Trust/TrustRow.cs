namespace Acquire.Storage.Trust;

/// <summary>What the tables of checks and of repeatability tests have in common.</summary>
internal record TrustRow : ProvenanceRow
{
    public long RevisionId { get; init; }

    public string Id { get; init; } = "";

    public bool Passed { get; init; }

    public string? SessionId { get; init; }

    /// <summary>Refuses a record that is there already, or one of a session that is not.</summary>
    public static void Require(Db db, string table, string what, Guid id, Guid? sessionId)
    {
        if (db.Exists($"SELECT 1 FROM {table} WHERE id = @id", new { id = Sql.Id(id) }))
        {
            throw new StoreException(StoreFault.Duplicate, $"{what} {id} is in the store already.");
        }

        if (sessionId is { } session)
        {
            Requirements.Session(db, session);
        }
    }
}

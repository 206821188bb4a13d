using System.Text.Json;
using Dapper;
using Microsoft.Data.Sqlite;

namespace Acquire.Storage.Rows;

/// <summary>One transaction to work in; or a connection where none is open and each statement stands for itself.</summary>
/// <param name="transaction">The transaction; null where none is open.</param>
/// <param name="watch">Checks what is loaded against its seals; null where nobody is shown it.</param>
internal sealed class Db(SqliteConnection connection, SqliteTransaction? transaction, SealWatch? watch = null)
{
    /// <summary>Those of the rows whose records are as they were written; the others are told.</summary>
    public List<T> Sound<T>(SealedRecord record, List<T> rows, Func<T, object> key) => watch?.Sound(this, record, rows, key) ?? rows;

    /// <summary>The rows, where all their records are as they were written.</summary>
    /// <exception cref="StoreException">One is not.</exception>
    public List<T> Whole<T>(SealedRecord record, List<T> rows, Func<T, object> key) => watch?.Whole(this, record, rows, key) ?? rows;

    /// <summary>
    /// Whether a record that is as it was written cannot be read nevertheless, as one of another version of this program.
    /// </summary>
    public static bool IsUnreadable(Exception fault) =>
        fault is FormatException or ImpossibleValueException or JsonException or InvalidOperationException;

    /// <summary>A record as it reads; none where it cannot be read, which is told, so that the others come.</summary>
    public List<T> Readable<T>(SealedRecord record, object key, Func<T> read)
    {
        try
        {
            return [read()];
        }
        catch (Exception e) when (watch is not null && IsUnreadable(e))
        {
            watch.Tell(this, record, key, $"it cannot be read ({e.Message})");
            return [];
        }
    }

    /// <summary>
    /// Adds a row: a column for each property of its parts, under the property's name in lower case with underscores, or for each key of a
    /// dictionary. The triggers of the connection seal it.
    /// </summary>
    /// <returns>The number that the row got, in a table that numbers its rows.</returns>
    public long Insert(string table, params IEnumerable<object> parts)
    {
        var values = parts.SelectMany(part => part as IEnumerable<KeyValuePair<string, object?>>
            ?? part.GetType().GetProperties().Select(p => KeyValuePair.Create(p.Name, p.GetValue(part)))).ToList();
        return Scalar<long>(
            Insertion(table, values.Select(v => v.Key)) + "; SELECT last_insert_rowid()",
            new DynamicParameters(values.ToDictionary()));
    }

    /// <summary>Adds rows in the same way.</summary>
    public void InsertAll<T>(string table, IEnumerable<T> rows) =>
        Execute(Insertion(table, typeof(T).GetProperties().Select(p => p.Name)), rows);

    public int Execute(string sql, object? values = null) => connection.Execute(sql, values, transaction);

    public List<T> Query<T>(string sql, object? values = null) => connection.Query<T>(sql, values, transaction).AsList();

    /// <summary>Rows by the names of their columns, for those that a list of columns says and no type.</summary>
    public List<IDictionary<string, object?>> Rows(string sql, object? values = null) =>
        [.. connection.Query(sql, values, transaction).Cast<IDictionary<string, object?>>()];

    public T? First<T>(string sql, object? values = null) => connection.QueryFirstOrDefault<T>(sql, values, transaction);

    public T Scalar<T>(string sql, object? values = null) => connection.ExecuteScalar<T>(sql, values, transaction)!;

    public bool Exists(string sql, object? values = null) => Scalar<long>($"SELECT EXISTS ({sql})", values) != 0;

    private static string Insertion(string table, IEnumerable<string> names) =>
        $"INSERT INTO {table} ({string.Join(", ", names.Select(JsonNamingPolicy.SnakeCaseLower.ConvertName))}) "
        + $"VALUES ({string.Join(", ", names.Select(n => "@" + n))})";
}

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
                : $"{what} {id} has revision {newest}, so the next must be {expected}, not {given}. "
                    + "Read it again and repeat the correction.");
        }
    }
}

using System.Text.Json;
using Dapper;
using Microsoft.Data.Sqlite;

namespace Acquire.Storage.Rows;

/// <summary>One transaction to work in; or a connection where none is open and each statement stands for itself.</summary>
/// <param name="connection">The connection.</param>
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

    public int Execute(string sql, object? values = null) => connection.Execute(sql, values, transaction);

    public List<T> Query<T>(string sql, object? values = null) => connection.Query<T>(sql, values, transaction).AsList();

    /// <summary>Rows by the names of their columns, for those that a list of columns says and no type.</summary>
    public List<IDictionary<string, object?>> Rows(string sql, object? values = null) =>
        [.. connection.Query(sql, values, transaction).Cast<IDictionary<string, object?>>()];

    public T? First<T>(string sql, object? values = null) => connection.QueryFirstOrDefault<T>(sql, values, transaction);

    public T Scalar<T>(string sql, object? values = null) => connection.ExecuteScalar<T>(sql, values, transaction)!;

    public bool Exists(string sql, object? values = null) => Scalar<long>($"SELECT EXISTS ({sql})", values) != 0;
}

using Dapper;
using Microsoft.Data.Sqlite;

namespace Acquire.Storage.Rows;

/// <summary>One transaction to work in; or a connection where none is open and each statement stands for itself.</summary>
internal sealed class Db(SqliteConnection connection, SqliteTransaction? transaction)
{
    public int Execute(string sql, object? values = null) => connection.Execute(sql, values, transaction);

    public List<T> Query<T>(string sql, object? values = null) => connection.Query<T>(sql, values, transaction).AsList();

    /// <summary>Rows by the names of their columns, for those that a list of columns says and no type.</summary>
    public List<IDictionary<string, object?>> Rows(string sql, object? values = null) =>
        [.. connection.Query(sql, values, transaction).Cast<IDictionary<string, object?>>()];

    public T? First<T>(string sql, object? values = null) => connection.QueryFirstOrDefault<T>(sql, values, transaction);

    public T Scalar<T>(string sql, object? values = null) => connection.ExecuteScalar<T>(sql, values, transaction)!;

    public bool Exists(string sql, object? values = null) => Scalar<long>($"SELECT EXISTS ({sql})", values) != 0;
}

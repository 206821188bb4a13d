using Dapper;

namespace Acquire.Storage;

/// <summary>A row as a file carries it.</summary>
/// <param name="Table">The table.</param>
/// <param name="Values">
/// Its values by column: text, whole numbers as <see cref="long"/>, other numbers as <see cref="double"/>, bytes; null where there is none.
/// </param>
public sealed record StoredRow(string Table, IReadOnlyDictionary<string, object> Values);

public sealed partial class AcquireStore
{
    /// <summary>Takes rows into a store that has none yet, all of them or none, and seals each.</summary>
    /// <param name="rows">In any order.</param>
    /// <param name="cancellationToken">Cancels before the writing has begun.</param>
    /// <exception cref="StoreException">There are records in the store, or the rows do not fit this version's tables.</exception>
    public Task FillAsync(IReadOnlyCollection<StoredRow> rows, CancellationToken cancellationToken) => WriteAsync(
        db =>
        {
            if (db.Exists("SELECT 1 FROM row_seal"))
            {
                throw new StoreException(StoreFault.Refused, $"{FilePath} has records in it; only a fresh store is filled.");
            }

            _ = db.Execute("PRAGMA defer_foreign_keys = ON");
            foreach (var row in rows)
            {
                var columns = row.Values.Keys.ToList();
                _ = db.Execute(
                    $"INSERT INTO \"{row.Table}\" ({string.Join(", ", columns.Select(c => $"\"{c}\""))}) VALUES "
                    + $"({string.Join(", ", columns.Select((_, i) => $"@v{i}"))})",
                    new DynamicParameters(columns.Select((c, i) => KeyValuePair.Create($"v{i}", row.Values[c])).ToDictionary()));
            }
        },
        cancellationToken);
}

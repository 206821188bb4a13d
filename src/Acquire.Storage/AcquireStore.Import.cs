using Acquire.Storage.Import;
using Dapper;

namespace Acquire.Storage;

public sealed partial class AcquireStore
{
    /// <summary>
    /// Imports the strips of a file: all of them, or none. The strips are taken one by one in one transaction; other writers wait until it
    /// has ended.
    /// </summary>
    /// <param name="strips">The strips in the order of the file. What it throws ends the import, and nothing is written.</param>
    /// <param name="told">Called for each strip with what becomes of it, on another thread.</param>
    /// <param name="keep">Asked after the last strip whether to keep them: a dry run says no.</param>
    /// <param name="cancellationToken">Cancels; then nothing is written.</param>
    /// <returns>Whether the strips were kept.</returns>
    /// <exception cref="ImportException">A strip cannot be imported; the message says file and line.</exception>
    public Task<bool> ImportStripsAsync(
        IAsyncEnumerable<IncomingStrip> strips,
        ImportSource source,
        Action<ImportedEntry> told,
        Func<bool> keep,
        CancellationToken cancellationToken) => WriteAsync(
        db => new StripImport(db, source, _time.GetUtcNow()).Run(strips.ToBlockingEnumerable(cancellationToken), told, keep),
        cancellationToken);

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

/// <summary>A row as a file carries it.</summary>
/// <param name="Values">
/// Its values by column: text, whole numbers as <see cref="long"/>, other numbers as <see cref="double"/>, bytes; null where there is none.
/// </param>
public sealed record StoredRow(string Table, IReadOnlyDictionary<string, object> Values);

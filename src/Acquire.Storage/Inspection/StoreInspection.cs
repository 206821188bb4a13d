using Acquire.Storage.Files;
using Acquire.Storage.Migrations;
using Microsoft.Data.Sqlite;

namespace Acquire.Storage.Inspection;

/// <summary>Looks a file through without changing it: structure, references, seals, and every record in it.</summary>
public static class StoreInspection
{
    /// <summary>
    /// Looks through a store or a backup, also while it is in use. A file of an earlier version is looked through as it is, then a copy of
    /// it that was brought to this version.
    /// </summary>
    /// <exception cref="StoreException">
    /// There is no such file, or it is no database, another program's, or a newer version's; or it cannot be opened.
    /// </exception>
    public static Task<StoreReport> InspectAsync(
        string file, TimeProvider time, CancellationToken cancellationToken) => Task.Run(
        async () =>
        {
            var path = Path.GetFullPath(file);
            Presence.Require(path);
            try
            {
                return await InspectFileAsync(new StoreFile(path), time, cancellationToken);
            }
            catch (Exception e)
            {
                throw StoreFaults.Translate(e, path);
            }
        },
        cancellationToken);

    /// <summary>The newest backup of a data folder that is sound; null when there is none.</summary>
    public static async Task<BackupFile?> NewestSoundAsync(string dataFolder, TimeProvider time, CancellationToken cancellationToken)
    {
        foreach (var backup in BackupFolder.Of(dataFolder).Files.Reverse())
        {
            try
            {
                if ((await InspectAsync(backup.Path, time, cancellationToken)).IsSound)
                {
                    return backup;
                }
            }
            catch (StoreException)
            {
                // That one is of no use; the one before may be.
            }
        }

        return null;
    }

    private static async Task<StoreReport> InspectFileAsync(
        StoreFile file, TimeProvider time, CancellationToken cancellationToken)
    {
        using var connection = file.OpenForReading();
        var newest = UserVersionJournal.VersionOf(Scripts.All[^1]);
        var version = FileIdentity.Check(connection, file.Path, newest);
        if (version == 0)
        {
            throw new StoreException(StoreFault.NotADatabase, $"{file.Path}: the file is empty: there is no store in it.");
        }

        RowSeals.AddFunctions(connection);
        using var transaction = connection.BeginTransaction(deferred: true);
        var db = new Db(connection, transaction);
        var findings = new List<StoreFinding>();
        // From the pages up: each look rests on what the one before found sound, yet none of them ends the others.
        findings.AddRange(Attempt.Of("the file", () => FileChecks.Structure(db)));
        findings.AddRange(Attempt.Of("the list of tables", () => FileChecks.Schema(db, version)));
        findings.AddRange(Attempt.Of("the references between tables", () => FileChecks.References(db)));
        if (version == newest)
        {
            return Deep(db, file.Path, version, findings, cancellationToken);
        }

        // To make a damaged file newer would only hide where it was damaged.
        return findings.Count > 0
            ? new StoreReport(file.Path, version, ImmutableSortedDictionary<string, long>.Empty, null, [.. findings])
            : await OfUpgradedCopyAsync(connection, file.Path, version, time, cancellationToken);
    }

    private static StoreReport Deep(
        Db db, string file, int version, List<StoreFinding> findings, CancellationToken cancellationToken)
    {
        SealCheck? seals = null;
        var contents = new List<(string Table, long Rows)>();
        findings.AddRange(Attempt.Of("the seals", () => (seals = SealCheck.Of(db)) is null ? [] : FileChecks.Seals(seals)));
        findings.AddRange(FileChecks.Views(db));
        findings.AddRange(Attempt.Of("the records", () => RecordChecks.Of(db, cancellationToken)));
        findings.AddRange(Attempt.Of("the tables", () =>
        {
            contents.AddRange(FileChecks.Contents(db));
            return [];
        }));
        return new StoreReport(
            file,
            version, contents.ToImmutableSortedDictionary(c => c.Table, c => c.Rows, StringComparer.Ordinal), seals?.Sealed, [.. findings]);
    }

    private static async Task<StoreReport> OfUpgradedCopyAsync(
        SqliteConnection connection, string file, int version, TimeProvider time, CancellationToken cancellationToken)
    {
        var folder = Directory.CreateTempSubdirectory("acquire-verify-");
        try
        {
            var copy = new StoreFile(Path.Combine(folder.FullName, StoreFile.Name));
            await DatabaseCopy.MakeAsync(connection, copy.Path);
            var opening = new StoreOpening(DataFolder.Prepare(folder.FullName), Scripts.All, StoreFile.DefaultLockWait, time);
            var (inUse, writing) = await opening.OpenAsync(cancellationToken);
            await using (inUse)
            using (writing)
            using (var upgraded = copy.OpenForReading())
            {
                RowSeals.AddFunctions(upgraded);
                return Deep(new Db(upgraded, null), file, version, [], cancellationToken) with { Seals = null };
            }
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }
}

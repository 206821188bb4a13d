using Acquire.Storage;
using Microsoft.Data.Sqlite;

namespace KillTrials;

/// <summary>A store as an earlier version of the program left it, with sessions and lines enough for its upgrade to take a while.</summary>
public static class OldStore
{
    public const int Version = 4;
    public const int Sessions = 60;
    private const int LinesPerSession = 200;

    /// <summary>Makes the file, by the scripts of that version.</summary>
    public static void Make(string database)
    {
        var folder = Path.GetDirectoryName(database)!;
        if (Directory.Exists(folder))
        {
            Directory.Delete(folder, recursive: true);
        }

        _ = Directory.CreateDirectory(folder);
        using var connection = new SqliteConnection($"Data Source={database};Pooling=False");
        connection.Open();
        Execute(connection, "PRAGMA journal_mode = WAL");
        var assembly = typeof(AcquireStore).Assembly;
        foreach (var name in assembly.GetManifestResourceNames()
            .Where(n => n.EndsWith(".sql", StringComparison.Ordinal))
            .Order(StringComparer.Ordinal)
            .Take(Version))
        {
            using var script = new StreamReader(assembly.GetManifestResourceStream(name)!);
            Execute(connection, script.ReadToEnd());
        }

        Execute(connection, string.Create(CultureInfo.InvariantCulture, $"""
            PRAGMA user_version = {Version};
            BEGIN;
            INSERT INTO lot (code, process_key, layout_name, added_at) VALUES ('4410', 'c41', 'strip', '2026-03-12T18:30:00.0000000+00:00');
            INSERT INTO lot_patch VALUES ('4410', 1, 'ld', 'LD');
            WITH RECURSIVE n (i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < {Sessions})
            INSERT INTO bench_session
            SELECT printf('00000000-0000-7000-8000-%012d', i), 'strip', '4410', 3, '2026-03-12T18:30:00.0000000+00:00', 'staff', 'labelled-line', 'hash', 'port' FROM n;
            WITH RECURSIVE n (i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < {LinesPerSession})
            INSERT INTO session_line
            SELECT id, i, read_at, CAST(printf('R 0.260 G %.3f B %s', i / 1000.0, id) AS BLOB), 'reading' FROM bench_session, n;
            COMMIT;
            """));
    }

    /// <summary>Demands that a store, of whatever version it is now, has everything that was in it.</summary>
    internal static void Compare(StoreLook look, string what, Tally tally)
    {
        tally.Demand(look.Version is >= Version and <= 99, $"{what} has version {look.Version}");
        tally.Demand(look.Sessions.Length == Sessions, $"{what} has {look.Sessions.Length} sessions");
        tally.Demand(look.Sessions.All(s => s.Lines.Distinct().Count() == LinesPerSession), $"{what} has lost lines");
    }

    private static void Execute(SqliteConnection connection, string sql)
    {
        using var command = connection.CreateCommand();
        command.CommandText = sql;
        _ = command.ExecuteNonQuery();
    }
}

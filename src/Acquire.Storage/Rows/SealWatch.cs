using System.Collections.Concurrent;
using System.Text.Json;

namespace Acquire.Storage.Rows;

/// <summary>A kind of record: the tables that hold one, each with the record's number or name as the first column of its key.</summary>
/// <param name="What">What such a record is called.</param>
/// <param name="Name">SQL for how one is named, by <c>@key</c>.</param>
internal sealed record SealedRecord(string What, string Name, params string[] Tables)
{
    public static SealedRecord Strip { get; } = new(
        "strip",
        "SELECT strip_id || ', revision ' || revision FROM strip_revision WHERE revision_id = @key",
        "strip_revision",
        "strip_patch", "strip_read", "strip_line", "strip_mean", "strip_aim", "strip_repeatability", "strip_question", "strip_import");

    /// <summary>What ties the revisions of a strip together, kept by the strip's id.</summary>
    public static SealedRecord StripId { get; } = new("strip", "SELECT @key", "strip");

    public static SealedRecord ProcessSheet { get; } = new(
        "process sheet", "SELECT name FROM process_snapshot WHERE hash = @key",
        "process_snapshot", "process_limit", "process_channel_limit");

    public static SealedRecord Lot { get; } = new("lot", "SELECT @key", "lot", "lot_patch", "lot_correction");

    public static SealedRecord Adjustment { get; } = new(
        "crossover",
        "SELECT 'to lot ' || lot_code FROM aim_adjustment WHERE adjustment_id = @key",
        "aim_adjustment", "aim_adjustment_value", "aim_adjustment_pair");

    public static SealedRecord Instrument { get; } = new("instrument", "SELECT @key", "instrument_revision");

    public static SealedRecord Plaque { get; } = new("plaque", "SELECT @key", "plaque", "plaque_patch");

    public static SealedRecord Session { get; } = new("bench session", "SELECT @key", "bench_session", "session_end");

    public static SealedRecord Journal { get; } = new("journal of the bench session", "SELECT @key", "session_entry");

    public static SealedRecord Lines { get; } = new("lines of the bench session", "SELECT @key", "session_line");

    public static SealedRecord Plan { get; } = new("plan of the bench session", "SELECT @key", "session_plan", "session_plan_patch");

    public static SealedRecord Profile { get; } = new(
        "profile of a bench session", "SELECT name FROM profile_text WHERE hash = @key", "profile_text");

    public static SealedRecord Listening { get; } = new(
        "listening to an instrument", "SELECT 'to ' || instrument FROM listening WHERE id = @key", "listening", "listening_entry");

    public static SealedRecord LooseTaken { get; } = new("loose reading", "SELECT @key", "loose_taken");

    public static SealedRecord ServiceSession { get; } = new("session led by a service", "SELECT @key", "service_session");

    public static SealedRecord Reference { get; } = OfReads(
        "reference reading", "lot_reference_revision", "lot_reference", "lot_reference_origin");

    /// <summary>What the revisions of a reference reading have in common, kept by its id.</summary>
    public static SealedRecord ReferenceId { get; } = new(
        "reference reading",
        "SELECT 'of ' || read_at FROM lot_reference_revision WHERE reference_id = @key", "lot_reference", "lot_reference_strip");

    public static SealedRecord Check { get; } = OfReads("calibration check", "calibration_check", "calibration_check");

    public static SealedRecord Repeatability { get; } = OfReads("repeatability test", "repeatability_test", "repeatability_test");

    public static SealedRecord Recheck { get; } = OfReads("recheck", "reference_recheck", "reference_recheck");

    public static SealedRecord Entry { get; } = new(
        "entry of the books", "SELECT 'of ' || happened_at FROM book_entry WHERE sequence = @key", "book_entry");

    /// <summary>What an entry of the books says, which is kept by the entry's id.</summary>
    public static SealedRecord OfEntry(string table) => new(
        "entry of the books",
        "SELECT 'of ' || happened_at FROM book_entry WHERE id = @key",
        table == "film_use" ? ["film_use", "film_use_film", "film_use_bottle"] : [table]);

    /// <summary>
    /// The row alone that stands for such a record. It says whose the record is, so those of others are looked at too: one of them may have
    /// been ours.
    /// </summary>
    public SealedRecord Head => this with { Tables = [Tables[0]] };

    /// <summary>A record of reads: its own table and the three that hold its reads.</summary>
    private static SealedRecord OfReads(string what, string table, string stem, params string[] more) => new(
        what, $"SELECT 'of ' || read_at FROM {table} WHERE revision_id = @key",
        [table, stem + "_patch", stem + "_read", stem + "_line", .. more]);
}

/// <summary>
/// Checks records against their seals as they are loaded, so that nothing is shown, judged or exported that is not as it was written. A
/// record that is not is left out and told; the others come.
/// </summary>
internal sealed class SealWatch
{
    private readonly ConcurrentDictionary<string, byte> _leftOut = new();
    private Dictionary<string, SealedTable>? _tables;

    /// <summary>The records that were left out so far, and why.</summary>
    public IReadOnlyCollection<string> LeftOut => [.. _leftOut.Keys.Order(StringComparer.Ordinal)];

    /// <summary>Notes that a record was left out, and why.</summary>
    public void Tell(Db db, SealedRecord record, object key, string why) =>
        _leftOut.TryAdd($"{Named(db, record, key)} is left out: {why}. Look with: acquire verify", 0);

    /// <summary>Those of some rows whose records are as they were written.</summary>
    /// <param name="db">A transaction, so that rows and seals are of one moment.</param>
    /// <param name="record">What the rows belong to.</param>
    /// <param name="key">The record's number or name, as the tables have it.</param>
    public List<T> Sound<T>(Db db, SealedRecord record, List<T> rows, Func<T, object> key)
    {
        var spoiled = Spoiled(db, record, rows, key);
        foreach (var (of, why) in spoiled)
        {
            Tell(db, record, of, why);
        }

        return spoiled.Count == 0 ? rows : rows.FindAll(r => !spoiled.ContainsKey(Text(key(r))));
    }

    /// <summary>
    /// The rows, all of whose records are as they were written: for what is asked for by name, and is not none because it was changed.
    /// </summary>
    /// <exception cref="StoreException">One is not.</exception>
    public List<T> Whole<T>(Db db, SealedRecord record, List<T> rows, Func<T, object> key)
    {
        foreach (var (of, why) in Spoiled(db, record, rows, key))
        {
            throw new StoreException(
                StoreFault.Damaged, $"{Named(db, record, of)} cannot be used: {why}. Look with: acquire verify, then restore a backup.");
        }

        return rows;
    }

    private static string Named(Db db, SealedRecord record, object key) =>
        $"The {record.What} {db.First<string>(record.Name, new { key }) ?? key}";

    private Dictionary<string, string> Spoiled<T>(Db db, SealedRecord record, List<T> rows, Func<T, object> key)
    {
        var spoiled = new Dictionary<string, string>();
        _tables ??= SealedTable.In(db).ToDictionary(t => t.Name);
        if (_tables.Count == 0 || rows.Count == 0)
        {
            return spoiled;
        }

        // All keys go as one JSON array, for SQLite has a limit of parameters and a history has thousands of strips.
        var keys = JsonSerializer.Serialize(rows.Select(key).Distinct());
        foreach (var table in record.Tables.Where(_tables.ContainsKey))
        {
            foreach (var (of, why) in Spoiled(db, _tables[table], keys))
            {
                _ = spoiled.TryAdd(of, why);
            }
        }

        return spoiled;
    }

    /// <summary>The records with a row in this table that is not as it was written, and which row that is.</summary>
    private static IEnumerable<(string Of, string Why)> Spoiled(Db db, SealedTable table, string keys)
    {
        // CROSS JOIN keeps SQLite to the order: the seals of each record by the index. Left to itself it holds all seals of the table
        // against all keys.
        var seals = db.Query<Seal>(
            $"""
            SELECT CAST(k.value AS TEXT) AS of, s.row_key, s.hash, b.hash AS before
            FROM json_each(@keys) AS k
            CROSS JOIN row_seal AS s ON s.table_name = @Name AND {table.KeyOfRecord("s.row_key", "k.value")}
            LEFT JOIN row_seal AS b ON b.sequence = s.sequence - 1
            """,
            new { keys, table.Name }).GroupBy(s => s.RowKey).ToDictionary(g => g.Key, g => g.First());
        var rows = db.Query<(string Of, string Key, byte[] Digest)>(
            $"""
            SELECT CAST({table.First} AS TEXT), {table.Key("")}, {table.Digest("")} FROM {table.Rows}
            WHERE {table.First} IN (SELECT value FROM json_each(@keys))
            """,
            new { keys });
        foreach (var (of, row, digest) in rows)
        {
            if (!seals.Remove(row, out var seal))
            {
                yield return (of, $"the row {table.Name} {row} has no seal");
            }
            else if (!RowDigest.Seal(seal.Before, table.Name, row, digest).AsSpan().SequenceEqual(seal.Hash))
            {
                yield return (of, $"the row {table.Name} {row} is not as it was written");
            }
        }

        foreach (var seal in seals.Values)
        {
            yield return (seal.Of, $"the row {table.Name} {seal.RowKey} was written and is gone");
        }
    }

    private static string Text(object key) => Convert.ToString(key, CultureInfo.InvariantCulture)!;

    private sealed record Seal
    {
        public string Of { get; init; } = "";

        public string RowKey { get; init; } = "";

        public byte[] Hash { get; init; } = [];

        public byte[]? Before { get; init; }
    }
}

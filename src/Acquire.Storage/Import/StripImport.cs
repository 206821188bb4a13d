using Acquire.Formats.Strips;
using Acquire.Storage.Records;

namespace Acquire.Storage.Import;

/// <summary>
/// Imports the strips of one file in the transaction it is given. A dry run does the same and takes it back, so that it finds exactly what
/// the real one would. Strips pass one by one; what has been seen is kept in a temporary table of SQLite, not in memory.
/// </summary>
internal sealed class StripImport(Db db, ImportSource source, DateTimeOffset now)
{
    private readonly StripLoader _loader = new();
    private readonly HashSet<string> _lots = new(StringComparer.OrdinalIgnoreCase);

    /// <summary>Imports; true when it was kept, false when <paramref name="keep"/> said no at the end and nothing is written.</summary>
    public bool Run(IEnumerable<IncomingStrip> strips, Action<ImportedEntry> told, Func<bool> keep)
    {
        _ = db.Execute("DROP TABLE IF EXISTS temp.import_seen");

        // A dry run is taken back to here, not ended by an exception: the caller's transaction commits either way, with nothing in it.
        _ = db.Execute("SAVEPOINT import_strips");
        _ = db.Execute(
            "CREATE TEMP TABLE import_seen (identity TEXT NOT NULL PRIMARY KEY, times INTEGER NOT NULL, "
            + "line INTEGER NOT NULL) WITHOUT ROWID");
        foreach (var strip in strips)
        {
            told(Take(strip));
        }

        if (keep())
        {
            _ = db.Execute("RELEASE import_strips");
            _ = db.Execute("DROP TABLE temp.import_seen");
            return true;
        }

        _ = db.Execute("ROLLBACK TO import_strips");
        _ = db.Execute("RELEASE import_strips");
        return false;
    }

    private ImportedEntry Take(IncomingStrip incoming)
    {
        var before = Seen(incoming);
        StripRecord record;
        try
        {
            record = incoming.ToRecord(before);
        }
        catch (Domain.ImpossibleValueException e)
        {
            throw incoming.Spot.Wrong(e.Message.TrimEnd('.'), e);
        }

        if (RecordProof.Fault(record) is { } fault)
        {
            throw incoming.Spot.Wrong($"this strip does not prove: {fault}");
        }

        var entry = new ImportedEntry(incoming.Spot, record, ImportFate.Added) { Name = incoming.Name, SharesIdentity = before > 0 };
        var newest = db.Scalar<int?>("SELECT max(revision) FROM strip_revision WHERE strip_id = @id", new { id = Sql.Id(record.Id) });

        // What is stored is never overwritten: it is compared, and where it differs the user is told and decides.
        if (newest is { } there && (!incoming.HasRevision || record.Revision.Number <= there))
        {
            return Compared(entry, incoming, incoming.HasRevision ? record.Revision.Number : there);
        }

        // Its id counts the strips alike before it, so a row pasted twice looks new; only its reads tell.
        if (before > 0 && Repeats(record, incoming.Identity, before))
        {
            return entry with { Fate = ImportFate.Repeated };
        }

        entry = entry with { NewLot = Lot(incoming, record), Fate = newest is null ? ImportFate.Added : ImportFate.Revised };
        var foreign = ImportTables.Foreign(db, record);
        AddSource(StripWriter.Add(db, record, now, foreign), incoming, foreign);
        return entry;
    }

    /// <summary>Where the record came from, in the table <c>strip_import</c>.</summary>
    private void AddSource(long revisionId, IncomingStrip strip, ForeignIds foreign) => db.Insert("strip_import", new
    {
        revisionId,
        source.File,
        FileHash = source.Hash,
        FileLine = strip.Spot.Line,
        strip.Name,
        SessionId = Sql.Id(foreign.Session),
        ReferenceId = Sql.Id(foreign.Reference),
        CheckId = Sql.Id(foreign.Check),
        RepeatabilityId = Sql.Id(foreign.Repeatability),
        Confirms = Sql.Id(foreign.Confirms),
        RereadOf = Sql.Id(foreign.RereadOf),
        PairedWith = Sql.Id(foreign.PairedWith),
    });

    /// <summary>How many strips of this identity stand before it in the file.</summary>
    private int Seen(IncomingStrip incoming)
    {
        var seen = db.First<SeenRow>("SELECT times, line FROM temp.import_seen WHERE identity = @Identity", new { incoming.Identity });
        if (seen is not null && !incoming.MayRepeat)
        {
            throw incoming.Spot.Wrong(
                $"the strip {incoming.Name ?? incoming.Identity} stands in line {seen.Line} already; "
                + "expected each strip once, with its rows together. Sort the file by strip, or name the strips otherwise");
        }

        _ = db.Execute(
            "INSERT INTO temp.import_seen (identity, times, line) VALUES (@Identity, 1, @Line) ON CONFLICT (identity) DO UPDATE SET "
            + "times = times + 1",
            new { incoming.Identity, incoming.Spot.Line });
        return seen?.Times ?? 0;
    }

    private ImportedEntry Compared(ImportedEntry entry, IncomingStrip incoming, int revision)
    {
        var stored = Stored(entry.Strip.Id, revision);
        var difference = stored is null
            ? $"the store has a newer revision and lacks revision {revision}"
            : StripContent.Difference(stored, entry.Strip, incoming.IsWhole);
        return entry with { Fate = difference is null ? ImportFate.AlreadyThere : ImportFate.Conflict, Difference = difference };
    }

    /// <summary>A row that was pasted twice: a strip of the same identity before it has the same reads.</summary>
    private bool Repeats(StripRecord record, string identity, int before) => Enumerable.Range(0, before)
        .Select(n => StripIdentity.ToId(record.Provenance.At, identity, n))
        .Select(id => db.Scalar<long?>("SELECT max(revision_id) FROM strip_revision WHERE strip_id = @id", new { id = Sql.Id(id) }))
        .Any(revision => revision is { } there && StripContent.Difference(_loader.Load(db, [there])[0], record, whole: false) is null);

    private StripRecord? Stored(Guid id, int revision) => db.Scalar<long?>(
        "SELECT revision_id FROM strip_revision WHERE strip_id = @id AND revision = @revision",
        new { id = Sql.Id(id), revision }) is { } found
        ? _loader.Load(db, [found])[0]
        : null;

    private Domain.Lots.StripLot? Lot(IncomingStrip incoming, StripRecord record)
    {
        if (_lots.Contains(record.LotCode))
        {
            return null;
        }

        var unknown = LotTables.Find(db, record.LotCode) is null;
        if (unknown && incoming.NewLot is null)
        {
            throw incoming.Spot.Wrong(
                $"there is no lot '{record.LotCode}' in the store; add it (acquire lot add {record.LotCode} --process c41), "
                + "or give --add-lots to add the lots of the file without a reference");
        }

        var added = unknown ? incoming.NewLot!(record) : null;
        if (added is not null)
        {
            LotTables.Add(db, added, now);
        }

        _ = _lots.Add(record.LotCode);
        return added;
    }

    private sealed record SeenRow
    {
        public int Times { get; init; }

        public int Line { get; init; }
    }
}

/// <summary>Whether two records say the same, and where they first differ.</summary>
internal static class StripContent
{
    /// <summary>The first difference in words; null when there is none.</summary>
    public static string? Difference(StripRecord stored, StripRecord given, bool whole) =>
        Lines(stored).Zip(Lines(given), (s, g) => (s, g)).Where(p => p.s != p.g).Select(p => Words(p.s, p.g)).FirstOrDefault()
        ?? (Lines(stored).Count() != Lines(given).Count() ? "the store has other reads than the file" : null)
        ?? (whole && StripJsonLines.Line(stored) != StripJsonLines.Line(given)
            ? "the records differ in something beside their reads, such as aims, note or raw lines"
            : null);

    private static IEnumerable<(string What, string Value)> Lines(StripRecord strip) =>
    [
        ("time", Sql.Time(strip.Provenance.At)),
        ("lot", strip.LotCode.ToUpperInvariant()),
        .. StripTags.Texts.Where(t => t.IsPlace).Select(t => (t.Name, t.Of(strip.Tags) ?? "")),
        .. strip.Patches.SelectMany(Reads),
    ];

    private static IEnumerable<(string What, string Value)> Reads(PatchReads patch) => patch.Reads.Select((read, i) => (
        $"{patch.Patch.Key} read {i + 1}",
        read.Reading.Densities + (read.Counts && patch.LeftOut is null ? "" : " (does not count)")));

    private static string Words((string What, string Value) stored, (string What, string Value) given) => stored.What == given.What
        ? $"{stored.What} is {Quoted(stored.Value)} in the store, {Quoted(given.Value)} in the file"
        : $"the store has {stored.What} ({stored.Value}) where the file has {given.What} ({given.Value})";

    private static string Quoted(string value) => value.Length == 0 ? "empty" : FilePlace.Shown(value);

}

using Acquire.Formats.Strips;
using Acquire.Storage.Lots;
using Acquire.Storage.Strips;

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
        _ = db.Execute("SAVEPOINT import_strips");
        _ = db.Execute(
            "CREATE TEMP TABLE import_seen (identity TEXT NOT NULL PRIMARY KEY, times INTEGER NOT NULL, line INTEGER NOT NULL) WITHOUT "
            + "ROWID");
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
        if (newest is { } there && (!incoming.HasRevision || record.Revision.Number <= there))
        {
            return Compared(entry, incoming, incoming.HasRevision ? record.Revision.Number : there);
        }

        if (before > 0 && Repeats(record, incoming.Identity, before))
        {
            return entry with { Fate = ImportFate.Repeated };
        }

        entry = entry with { NewLot = Lot(incoming, record), Fate = newest is null ? ImportFate.Added : ImportFate.Revised };
        var foreign = ImportTables.Foreign(db, record);
        ImportTables.Add(db, StripWriter.Add(db, record, now, foreign), source, incoming, foreign);
        return entry;
    }

    /// <summary>How many strips of this identity stand before it in the file.</summary>
    private int Seen(IncomingStrip incoming)
    {
        var seen = db.First<SeenRow>("SELECT times, line FROM temp.import_seen WHERE identity = @Identity", new { incoming.Identity });
        if (seen is not null && !incoming.MayRepeat)
        {
            throw incoming.Spot.Wrong(
                $"the strip {incoming.Name ?? incoming.Identity} stands in line {seen.Line} already; expected each strip once, with its "
                + $"rows together. "
                + "Sort the file by strip, or name the strips otherwise");
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
                $"there is no lot '{record.LotCode}' in the store; add it (acquire lot add {record.LotCode} --process c41), or give "
                + $"--add-lots to add the lots "
                + "of the file without a reference");
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

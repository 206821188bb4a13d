namespace Acquire.Storage.Records;

/// <summary>Instruments in the table <c>instrument_revision</c>; the newest revision of a name is in force.</summary>
internal static class InstrumentTables
{
    public static void Add(Db db, Instrument instrument)
    {
        // Under the spelling of the first revision: seals know a row by its key, letter by letter.
        var newest = db.First<HeadRow>(
            "SELECT name, revision FROM instrument_revision WHERE name = @Name ORDER BY revision DESC LIMIT 1", new { instrument.Name });
        var expected = (newest?.Revision ?? 0) + 1;
        if (instrument.Revision.Number != expected)
        {
            throw newest is not null && instrument.Revision.Number == 1
                ? new StoreException(StoreFault.Duplicate, $"There is an instrument '{newest.Name}' already. Give this one another "
                    + $"name, or change that one: acquire instrument set \"{newest.Name}\" …")
                : new StoreException(StoreFault.Conflict, $"The instrument '{instrument.Name}' has revision {newest?.Revision ?? 0}, so "
                    + $"the next must be {expected}, not {instrument.Revision.Number}. Look at it again and repeat the change.");
        }

        _ = db.Insert(
            "instrument_revision",
            new
            {
                Name = newest?.Name ?? instrument.Name,
                instrument.Profile,
                instrument.Port,
                instrument.Baud,
                instrument.DisplayStep,
                instrument.Filters,
                instrument.SerialNumber,
                instrument.Notes,
                RetiredAt = Sql.Time(instrument.RetiredAt),
            },
            RevisionRow.Of(instrument.Revision));
    }

    /// <summary>Each instrument as it stands, by name.</summary>
    public static List<Instrument> List(Db db) => Load(db, "", null).GroupBy(i => i.Name, StringComparer.OrdinalIgnoreCase)
        .Select(g => g.Last()).ToList();

    /// <summary>All revisions of one instrument, oldest first; none where there is no such instrument.</summary>
    public static List<Instrument> History(Db db, string name) => Load(db, "WHERE name = @name", new { name });

    /// <summary>What was read with each instrument that records name, whether it is in the house or not.</summary>
    public static List<InstrumentUse> Uses(Db db) => db.Query<InstrumentUse>(
        """
        WITH used AS (
            SELECT 'strip' AS kind, coalesce(instrument_name, profile) AS name, read_at FROM strip_revision AS r
            WHERE r.revision = (SELECT max(n.revision) FROM strip_revision AS n WHERE n.strip_id = r.strip_id)
            UNION ALL SELECT 'reference', coalesce(instrument_name, profile), read_at FROM lot_reference_revision
            UNION ALL SELECT 'recheck', coalesce(instrument_name, profile), read_at FROM reference_recheck
            UNION ALL SELECT 'check', coalesce(instrument_name, profile), read_at FROM calibration_check
            UNION ALL SELECT 'test', coalesce(instrument_name, profile), read_at FROM repeatability_test
            UNION ALL SELECT 'session', coalesce(instrument_name, profile), read_at FROM bench_session)
        SELECT min(name) AS Name, sum(kind = 'strip') AS Strips, sum(kind = 'reference') AS "References", sum(kind = 'recheck') AS Rechecks,
            sum(kind = 'check') AS Checks, sum(kind = 'test') AS Tests, max(read_at) AS LastReadAt
        FROM used WHERE name IS NOT NULL GROUP BY upper(name) ORDER BY LastReadAt DESC
        """);

    private static List<Instrument> Load(Db db, string which, object? values) =>
        [.. db.Whole(
            SealedRecord.Instrument,
            db.Query<InstrumentRow>($"SELECT * FROM instrument_revision {which} ORDER BY name, revision", values),
            r => r.Name).Select(r => r.ToInstrument())];

    private sealed record HeadRow
    {
        public string Name { get; init; } = "";

        public int Revision { get; init; }
    }

    private sealed record InstrumentRow
    {
        public string Name { get; init; } = "";

        public int Revision { get; init; }

        public string RevisedBy { get; init; } = "";

        public string RevisedAt { get; init; } = "";

        public string RevisionReason { get; init; } = "";

        public string Profile { get; init; } = "";

        public string? Port { get; init; }

        public int? Baud { get; init; }

        public double? DisplayStep { get; init; }

        public string? Filters { get; init; }

        public string? SerialNumber { get; init; }

        public string? Notes { get; init; }

        public string? RetiredAt { get; init; }

        public Instrument ToInstrument() => new(Name, Profile, new Revision(Revision, RevisedBy, Sql.Time(RevisedAt), RevisionReason))
        {
            Port = Port,
            Baud = Baud,
            DisplayStep = DisplayStep,
            Filters = Filters,
            SerialNumber = SerialNumber,
            Notes = Notes,
            RetiredAt = RetiredAt is { } at ? Sql.Time(at) : null,
        };
    }
}

/// <summary>What was read with an instrument.</summary>
public sealed record InstrumentUse
{
    /// <summary>Its name, as the records have it.</summary>
    public string Name { get; init; } = "";

    public long Strips { get; init; }

    public long References { get; init; }

    public long Rechecks { get; init; }

    public long Checks { get; init; }

    public long Tests { get; init; }

    /// <summary>When it was read last, sessions that gave no record included; as the store writes times.</summary>
    public string LastReadAt { get; init; } = "";
}

namespace Acquire.Storage.Rows;

/// <summary>When, by whom and with what, as the tables of sessions, references and strips have it.</summary>
internal record ProvenanceRow
{
    public string ReadAt { get; init; } = "";

    public string ReadBy { get; init; } = "";

    public string? Profile { get; init; }

    public string? ProfileHash { get; init; }

    public string? Port { get; init; }

    /// <summary>Null where the instrument goes by the name of its profile.</summary>
    public string? InstrumentName { get; init; }

    /// <summary>The part of a new row that says it.</summary>
    public static object Of(Provenance provenance)
    {
        var (at, by, instrument) = provenance;
        return new
        {
            ReadAt = Sql.Time(at),
            ReadBy = by,
            instrument?.Profile,
            instrument?.ProfileHash,
            instrument?.Port,
            InstrumentName = OwnName(instrument?.Name, instrument?.Profile),
        };
    }

    public Provenance ToProvenance() => new(
        Sql.Time(ReadAt),
        ReadBy,
        Profile is { } profile && ProfileHash is { } hash && Port is { } port 
            ? new InstrumentInUse(profile, hash, port) { Name = InstrumentName ?? profile }
            : null);

    /// <summary>What the column for an instrument's name holds: rows from before there were names say the same as new ones.</summary>
    public static string? OwnName(string? name, string? profile) => name == profile ? null : name;
}

/// <summary>A revision of a record, with what references and strips have in common.</summary>
internal record RevisionRow : ProvenanceRow
{
    public long RevisionId { get; init; }

    public int Revision { get; init; }

    public string RevisedBy { get; init; } = "";

    public string RevisedAt { get; init; } = "";

    public string RevisionReason { get; init; } = "";

    public string LotCode { get; init; } = "";

    public string? SessionId { get; init; }

    /// <summary>The part of a new row that says which revision it is, by whom, when and why.</summary>
    public static object Of(Revision revision) => new
    {
        Revision = revision.Number,
        RevisedBy = revision.By,
        RevisedAt = Sql.Time(revision.At),
        RevisionReason = revision.Reason,
    };

    public Revision ToRevision() => new(Revision, RevisedBy, Sql.Time(RevisedAt), RevisionReason);
}

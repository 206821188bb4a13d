using Dapper;

namespace Acquire.Storage.Rows;

/// <summary>When, by whom and with what, as the tables of sessions, references and strips have it.</summary>
internal record ProvenanceRow
{
    /// <summary>The columns, for an INSERT; <see cref="With"/> gives the values.</summary>
    public const string Columns = "read_at, read_by, profile, profile_hash, port";

    /// <summary>Their parameters, for an INSERT.</summary>
    public const string Parameters = "@ReadAt, @ReadBy, @Profile, @ProfileHash, @Port";

    public string ReadAt { get; init; } = "";

    public string ReadBy { get; init; } = "";

    public string? Profile { get; init; }

    public string? ProfileHash { get; init; }

    public string? Port { get; init; }

    /// <summary>The values of an INSERT, with those of the provenance beside the others.</summary>
    public static DynamicParameters With(object others, Provenance provenance)
    {
        var (at, by, instrument) = provenance;
        var values = new DynamicParameters(others);
        values.AddDynamicParams(
            new { ReadAt = Sql.Time(at), ReadBy = by, instrument?.Profile, instrument?.ProfileHash, instrument?.Port });
        return values;
    }

    public Provenance ToProvenance() => new(
        Sql.Time(ReadAt),
        ReadBy,
        Profile is { } profile && ProfileHash is { } hash && Port is { } port ? new InstrumentInUse(profile, hash, port) : null);
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

    public Revision ToRevision() => new(Revision, RevisedBy, Sql.Time(RevisedAt), RevisionReason);
}

namespace Acquire.Storage.Records;

/// <summary>Sums over the means of all strips, made by the database: ten thousand strips are a few hundred rows.</summary>
internal static class RepeatQueries
{
    /// <summary>How many of the last strips tell how a patch scatters over the days.</summary>
    private const int LastStrips = 500;

    public static List<RepeatSums> Within(Db db, double most) => db.Query<RepeatSums>(
        """
        SELECT coalesce(r.instrument_name, r.profile) AS Instrument,
            (SELECT count(*) FROM repeatability_test AS t
             WHERE coalesce(t.instrument_name, t.profile) IS coalesce(r.instrument_name, r.profile) COLLATE NOCASE
               AND t.read_at <= r.read_at) AS Era,
            m.channel AS Channel,
            sum((m.reads - 1) * m.mean) / sum(m.reads - 1) AS Density,
            sum((m.reads - 1) * m.standard_deviation * m.standard_deviation) AS Squares,
            sum(m.reads - 1) AS DegreesOfFreedom,
            max(m.resolution) AS Step
        FROM strip_mean AS m JOIN strip_revision AS r ON r.revision_id = m.revision_id
        WHERE m.reads > 1 AND m.standard_deviation <= @most
          AND r.revision = (SELECT max(n.revision) FROM strip_revision AS n WHERE n.strip_id = r.strip_id)
        GROUP BY upper(coalesce(r.instrument_name, r.profile)), Era, m.channel, round(m.mean, 1)
        """,
        new { most });

    public static List<DaySums> OverDays(Db db) => db.Query<DaySums>(
        """
        WITH last AS (
            SELECT r.revision_id, coalesce(r.instrument_name, r.profile) AS instrument,
                upper(coalesce(r.instrument_name, r.profile)) AS used, upper(r.lot_code) AS lot, substr(r.read_at, 1, 10) AS day
            FROM strip_revision AS r
            WHERE r.revision = (SELECT max(n.revision) FROM strip_revision AS n WHERE n.strip_id = r.strip_id)
            ORDER BY r.read_at DESC LIMIT @LastStrips),
        days AS (
            SELECT min(l.instrument) AS instrument, l.used, l.lot, upper(m.patch_key) AS patch, l.day, avg(m.mean) AS mean,
                count(DISTINCT m.channel) AS channels, avg(m.reads) AS reads, max(m.resolution) AS step
            FROM last AS l JOIN strip_mean AS m ON m.revision_id = l.revision_id
            GROUP BY l.used, l.lot, patch, l.day),
        steps AS (
            SELECT *, mean - lag(mean) OVER (PARTITION BY used, lot, patch ORDER BY day) AS moved FROM days)
        SELECT min(instrument) AS Instrument, lot AS LotCode, patch AS PatchKey, avg(mean) AS Density, max(channels) AS Channels,
            avg(reads) AS Reads, max(step) AS Step, count(moved) AS Pairs, coalesce(sum(moved * moved), 0.0) AS Squares
        FROM steps GROUP BY used, lot, patch
        """,
        new { LastStrips });
}

/// <summary>The repeats of an instrument in one channel at about one density.</summary>
public sealed record RepeatSums
{
    /// <summary>Name of the instrument; null for strips that name none.</summary>
    public string? Instrument { get; init; }

    /// <summary>How many repeatability tests of the instrument had been made by then.</summary>
    public long Era { get; init; }

    public Channel Channel { get; init; }

    /// <summary>Mean density.</summary>
    public double Density { get; init; }

    /// <summary>Sum of the squares about the patches' means, in density squared.</summary>
    public double Squares { get; init; }

    public long DegreesOfFreedom { get; init; }

    /// <summary>The coarsest display step.</summary>
    public double Step { get; init; }
}

/// <summary>How one patch of a lot went from day to day; strips of one day and the channels are averaged first.</summary>
public sealed record DaySums
{
    /// <summary>Name of the instrument; null for strips that name none.</summary>
    public string? Instrument { get; init; }

    public string LotCode { get; init; } = "";

    public string PatchKey { get; init; } = "";

    /// <summary>Mean density.</summary>
    public double Density { get; init; }

    public long Channels { get; init; }

    /// <summary>Reads behind a mean, on average.</summary>
    public double Reads { get; init; }

    /// <summary>The coarsest display step.</summary>
    public double Step { get; init; }

    /// <summary>How many neighbouring days there are.</summary>
    public long Pairs { get; init; }

    /// <summary>Sum of the squares of the steps from day to day, in density squared.</summary>
    public double Squares { get; init; }
}

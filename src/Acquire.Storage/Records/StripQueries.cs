namespace Acquire.Storage.Records;

/// <summary>Finds the revisions that are asked for.</summary>
internal static class StripQueries
{
    /// <summary>The newest revisions that a filter lets through, in the order in which the strips were read.</summary>
    public static List<long> Newest(Db db, StripFilter filter) =>
        db.Query<long>(
            """
            SELECT revision_id FROM (
              SELECT revision_id, read_at, strip_id FROM current_strip
              WHERE (@LotCode IS NULL OR lot_code = @LotCode COLLATE NOCASE)
                AND (@Line IS NULL OR line = @Line COLLATE NOCASE)
                AND (@From IS NULL OR read_at >= @From)
                AND (@Before IS NULL OR read_at < @Before)
              ORDER BY read_at DESC, strip_id DESC LIMIT @Last)
            WHERE @Behind IS NULL OR read_at > @Behind OR (read_at = @Behind AND strip_id > @BehindId)
            ORDER BY read_at, strip_id LIMIT @First
            """,
            new
            {
                filter.LotCode,
                filter.Line,
                From = filter.From is { } from ? Sql.Time(from) : null,
                Before = filter.Before is { } before ? Sql.Time(before) : null,
                Last = filter.Last is { } last ? Math.Max(last, 0) : -1,
                First = filter.First is { } first ? Math.Max(first, 0) : -1,
                Behind = filter.Behind is { } place ? Sql.Time(place.ReadAt) : null,
                BehindId = filter.Behind is { } strip ? Sql.Id(strip.Id) : null,
            });

    /// <summary>All revisions of a strip, first to newest.</summary>
    public static List<long> Revisions(Db db, Guid id) =>
        db.Query<long>("SELECT revision_id FROM strip_revision WHERE strip_id = @id ORDER BY revision", new { id = Sql.Id(id) });

    /// <summary>
    /// The newest revision of the one strip whose id is, begins or ends like this, or whose short form begins so; null when there is none.
    /// </summary>
    /// <exception cref="StoreException">It fits more than one, or what the store has of it was changed.</exception>
    public static long? Find(Db db, string idOrPart)
    {
        if (StripId.Digits(idOrPart) is not { } digits)
        {
            return null;
        }

        var ids = db.Query<string>(
            """
            SELECT id FROM (SELECT id FROM strip UNION SELECT strip_id FROM strip_revision)
            WHERE replace(id, '-', '') LIKE @digits || '%' OR replace(id, '-', '') LIKE '%' || @digits OR substr(replace(id, '-', ''), -@shown) LIKE @digits || '%'
            ORDER BY id LIMIT 5
            """,
            new { digits, shown = StripId.ShortDigits });
        return ids switch
        {
            [] => null,
            [var id] => db.Scalar<long?>("SELECT revision_id FROM current_strip WHERE strip_id = @id", new { id }) ?? throw Lost(db, id),
            _ => throw new StoreException(
                StoreFault.Ambiguous,
                $"'{idOrPart}' fits more than one strip: {string.Join(", ", ids)}. Give more digits; the ends differ most."),
        };
    }

    /// <summary>An id without a revision: one of the two was changed, and only a look at all revisions says which.</summary>
    private static StoreException Lost(Db db, string id)
    {
        _ = db.Whole(SealedRecord.StripId, [id], i => i);
        _ = db.Whole(SealedRecord.Strip.Head, db.Query<long>("SELECT revision_id FROM strip_revision"), r => r);
        return new StoreException(StoreFault.Damaged, $"The strip {id} has no revision. Look with: acquire verify");
    }
}

/// <summary>Which strips to list; what is null does not restrict. The newest revision of a strip decides.</summary>
public sealed record StripFilter
{
    public static StripFilter All { get; } = new();

    /// <summary>Only this lot, in any case.</summary>
    public string? LotCode { get; init; }

    /// <summary>Only this process line, in any case (A–Z).</summary>
    public string? Line { get; init; }

    /// <summary>Read at or after this time.</summary>
    public DateTimeOffset? From { get; init; }

    public DateTimeOffset? Before { get; init; }

    /// <summary>Only so many, the last ones read among those that the rest lets through.</summary>
    public int? Last { get; init; }

    /// <summary>Of those that all else lets through only the ones behind this place.</summary>
    public StripPlace? Behind { get; init; }

    /// <summary>And of them only so many, the first.</summary>
    public int? First { get; init; }
}

/// <summary>Where a strip stands in the order of reading.</summary>
public sealed record StripPlace(DateTimeOffset ReadAt, Guid Id);

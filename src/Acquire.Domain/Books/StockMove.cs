namespace Acquire.Domain.Books;

/// <summary>What happens to the strips of a lot.</summary>
public enum StockMoveKind
{
    /// <summary>Counted into the stock.</summary>
    Added,

    /// <summary>Taken out of the cold and thawed.</summary>
    Taken,

    /// <summary>Put back unprocessed.</summary>
    Returned,

    /// <summary>Processed.</summary>
    Used,

    /// <summary>Fogged, lost or otherwise gone unprocessed.</summary>
    Spoiled,
}

/// <summary>Strips of a lot that came, went or were moved.</summary>
public sealed record StockMove : BookEntry
{
    /// <summary>States a move.</summary>
    /// <exception cref="ImpossibleValueException">There is no lot, or the count is below 1.</exception>
    public StockMove(EntryStamp stamp, string lotCode, StockMoveKind kind, int strips, Guid? stripId = null)
        : base(stamp)
    {
        LotCode = Guard.Text(lotCode, "The lot of a stock");
        Kind = kind;
        Strips = strips is >= 1 and <= 100_000
            ? strips
            : throw new ImpossibleValueException($"A count of strips is a whole number from 1, not {strips}.");
        StripId = stripId;
    }

    /// <summary>Code number of the lot.</summary>
    public string LotCode { get; }

    /// <summary>What happened.</summary>
    public StockMoveKind Kind { get; }

    /// <summary>How many strips.</summary>
    public int Strips { get; }

    /// <summary>The strip's record, when it was read; null otherwise.</summary>
    public Guid? StripId { get; }
}

namespace Acquire.Domain.Books;

/// <summary>What happens to the strips of a lot.</summary>
public enum StockMoveKind
{
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

    public string LotCode { get; }

    public StockMoveKind Kind { get; }

    public int Strips { get; }

    /// <summary>The strip's record, when it was read; null otherwise.</summary>
    public Guid? StripId { get; }
}

/// <summary>The strips of a lot at a moment.</summary>
public sealed record StockState
{
    private readonly int _out;

    private StockState(string lotCode) => LotCode = lotCode;

    public string LotCode { get; }

    /// <summary>Counted in.</summary>
    public int Added { get; private init; }

    /// <summary>Processed.</summary>
    public int Used { get; private init; }

    /// <summary>Gone unprocessed.</summary>
    public int Spoiled { get; private init; }

    /// <summary>Strips left. Left − overdrawn = added − used − spoiled.</summary>
    public int Left => Math.Max(Balance, 0);

    /// <summary>How many more went than were counted in; 0 when the books agree.</summary>
    public int Overdrawn => Math.Max(-Balance, 0);

    /// <summary>Of those left, how many are out of the cold.</summary>
    public int Out => Math.Min(_out, Left);

    /// <summary>How often strips were taken out of the cold. One that was processed while none was out counts as taken too.</summary>
    public int Thaws { get; private init; }

    /// <summary>When the first strip was taken out; null while the pack is closed.</summary>
    public DateTimeOffset? OpenedAt { get; private init; }

    /// <summary>Whether strips of the lot were ever counted in.</summary>
    public bool IsKept => Added > 0;

    private int Balance => Added - Used - Spoiled;

    /// <summary>Days until a lot's last day, from a day on; below zero when it is past; null when its last day is not known.</summary>
    public static int? DaysToExpiry(DateOnly? expires, DateOnly day) => expires is { } last ? last.DayNumber - day.DayNumber : null;

    internal static StockState Of(string lotCode, IEnumerable<BookEntry> until) => until.OfType<StockMove>()
        .Where(m => Keys.Same(m.LotCode, lotCode))
        .Aggregate(new StockState(lotCode), (state, move) => state.After(move));

    private StockState After(StockMove move) => move.Kind switch
    {
        StockMoveKind.Added => this with { Added = Added + move.Strips },
        StockMoveKind.Taken => Thawed(move) with { Taken = _out + move.Strips },
        StockMoveKind.Returned => this with { Taken = _out - move.Strips },
        // A strip that ran was thawed, whether or not somebody noted it: thaws are what ages the pack.
        StockMoveKind.Used => (move.Strips > _out ? Thawed(move) : this) with { Used = Used + move.Strips, Taken = _out - move.Strips },
        _ => this with { Spoiled = Spoiled + move.Strips, Taken = _out - move.Strips },
    };

    private int Taken
    {
        // More back than went out is an entry that was forgotten, and no debt to be paid by the next one.
        init => _out = Math.Max(value, 0);
    }

    private StockState Thawed(StockMove move) => this with { Thaws = Thaws + 1, OpenedAt = OpenedAt ?? move.HappenedAt };
}

namespace Acquire.Bench.Books;

/// <summary>Strips that were counted in, taken out, returned, used or spoiled.</summary>
/// <param name="Lot">Code number of the lot; null for the one moved last.</param>
public sealed record StockRequest(string? Lot, StockMoveKind Kind, int Strips) : BookRequest
{
    internal override IEnumerable<BookEntry> Make(BookDraft draft)
    {
        var code = Lot is { } named ? (draft.FindLot(named) ?? throw NoLot(named)).Code : Usual(draft);
        return [new StockMove(draft.Stamp(), code, Kind, Strips)];
    }

    internal static BenchException NoLot(string code) =>
        new($"There is no lot {code}. Add it first: acquire lot add {code} --process c41") { IsNotThere = true };

    private static string Usual(BookDraft draft)
    {
        var code = draft.Books.Standing.OfType<StockMove>().LastOrDefault()?.LotCode
            ?? throw new BenchException("Which lot? Name it once: acquire lot stock 2417 add 20");
        draft.Take($"lot {code}");
        return code;
    }
}

/// <summary>The strips of a lot as counted at a moment.</summary>
/// <param name="At">The moment.</param>
/// <param name="DaysToExpiry">Days from then to the lot's last day; null where it has none.</param>
public sealed record LotStock(StockState State, StripLot Lot, DateTimeOffset At, int? DaysToExpiry);

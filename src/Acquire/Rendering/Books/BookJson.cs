using Acquire.Bench.Books;

namespace Acquire.Rendering.Books;

/// <summary>The books for other programs. Names of properties are a contract; new ones may be added.</summary>
internal static class BookJson
{
    public static object Of(BottleState state) => new
    {
        state.Bottle.Id,
        state.Bottle.Name,
        state.At,
        Solution = state.Solution.Name,
        SolutionKind = state.Solution.Kind,
        Process = state.Solution.ProcessKey,
        state.Solution.ConcentrateLot,
        MixedAt = state.Solution.HappenedAt,
        FilledAt = state.Bottle.HappenedAt,
        AgeDays = state.Age?.TotalDays,
        state.OpenedAt,
        OpenDays = state.SinceOpening?.TotalDays,
        state.Openings,
        AreaM2 = state.AreaUsed,
        state.Rolls,
        AreaPerLitre = state.AreaPerLitre,
        FilledLitres = state.Filled,
        ToppedUpLitres = state.ToppedUp,
        PouredLitres = state.Poured,
        LeftLitres = state.Left,
        OverdrawnLitres = state.Overdrawn,
        HeadspaceLitres = state.Headspace,
        state.FillShare,
        state.Storage.Container,
        CapacityLitres = state.Storage.Capacity,
        state.Storage.Gas,
        StorageTemperature = state.Storage.Temperature,
        state.DiscardedAt,
    };

    public static object Of(LineState state) => new
    {
        state.Line.Id,
        state.Line.Name,
        state.Line.Kind,
        Process = state.Line.ProcessKey,
        state.Agitation,
        state.Temperature,
        TimeSeconds = state.Time?.TotalSeconds,
        state.MethodSince,
        AreaM2 = state.AreaUsed,
        state.LastUsed,
    };

    public static object Of(LotStock stock) => new
    {
        Lot = stock.State.LotCode,
        stock.State.Left,
        stock.State.Out,
        stock.State.Added,
        stock.State.Used,
        stock.State.Spoiled,
        stock.State.Overdrawn,
        stock.State.Thaws,
        stock.State.OpenedAt,
        stock.Lot.StorageRule,
        stock.Lot.Expires,
        stock.DaysToExpiry,
    };

    public static object Of(StripContext context) => new
    {
        context.RanAt,
        Bottle = context.Bottle is { } bottle ? Of(bottle) : null,
        Line = context.Line is { } line ? Of(line) : null,
        Stock = context.Stock is { } stock ? new { stock.Left, stock.Out, stock.Thaws, stock.OpenedAt } : null,
        context.DaysToExpiry,
    };

    public static object Of(Ledger books, BookEntry entry) => new
    {
        entry.Id,
        Kind = EntryText.Word(entry),
        entry.HappenedAt,
        entry.Stamp.EnteredAt,
        EnteredBy = entry.Stamp.By,
        Text = EntryText.Of(books, entry),
        entry.Note,
        Withdrawn = books.Entered.OfType<Withdrawal>().FirstOrDefault(w => w.WithdrawnId == entry.Id)?.Reason,
        EventKind = (entry as BookEvent)?.Kind,
        Films = (entry as FilmUse)?.Films.Select(f => new { f.Format, f.Count, f.AreaEach }),
        AreaM2 = (entry as FilmUse)?.Area,
        Bottles = entry switch
        {
            FilmUse use => use.BottleIds.Select(b => books.Get<Bottle>(b).Name),
            BottleEvent e => [books.Get<Bottle>(e.BottleId).Name],
            BookEvent { BottleId: { } bottle } => [books.Get<Bottle>(bottle).Name],
            _ => null,
        },
        Line = entry switch
        {
            FilmUse { LineId: { } line } => books.Get<ProcessLine>(line).Name,
            BookEvent { LineId: { } line } => books.Get<ProcessLine>(line).Name,
            LineMethod method => books.Get<ProcessLine>(method.LineId).Name,
            _ => null,
        },
        StripId = (entry as FilmUse)?.StripId ?? (entry as StockMove)?.StripId,
    };
}

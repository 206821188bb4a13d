using Acquire.Bench.Books;

namespace Acquire.Web.Documents;

/// <summary>The books for other programs. Names of properties are a contract; new ones may be added.</summary>
internal static class BookJson
{
    public static BottleDocument Of(BottleState state) => new()
    {
        Id = state.Bottle.Id,
        Name = state.Bottle.Name,
        At = state.At,
        Solution = state.Solution.Name,
        SolutionKind = state.Solution.Kind,
        Process = state.Solution.ProcessKey,
        ConcentrateLot = state.Solution.ConcentrateLot,
        MixedAt = state.Solution.HappenedAt,
        FilledAt = state.Bottle.HappenedAt,
        AgeDays = state.Age?.TotalDays,
        OpenedAt = state.OpenedAt,
        OpenDays = state.SinceOpening?.TotalDays,
        Openings = state.Openings,
        AreaM2 = state.AreaUsed,
        Rolls = state.Rolls,
        AreaPerLitre = state.AreaPerLitre,
        FilledLitres = state.Filled,
        ToppedUpLitres = state.ToppedUp,
        PouredLitres = state.Poured,
        LeftLitres = state.Left,
        OverdrawnLitres = state.Overdrawn,
        HeadspaceLitres = state.Headspace,
        FillShare = state.FillShare,
        Container = state.Storage.Container,
        CapacityLitres = state.Storage.Capacity,
        Gas = state.Storage.Gas,
        StorageTemperature = state.Storage.Temperature,
        DiscardedAt = state.DiscardedAt,
    };

    public static ProcessLineDocument Of(LineState state) => new()
    {
        Id = state.Line.Id,
        Name = state.Line.Name,
        Kind = state.Line.Kind,
        Process = state.Line.ProcessKey,
        Agitation = state.Agitation,
        Temperature = state.Temperature,
        TimeSeconds = state.Time?.TotalSeconds,
        MethodSince = state.MethodSince,
        AreaM2 = state.AreaUsed,
        LastUsed = state.LastUsed,
    };

    public static StockDocument Of(LotStock stock) => new()
    {
        Lot = stock.State.LotCode,
        Left = stock.State.Left,
        Out = stock.State.Out,
        Added = stock.State.Added,
        Used = stock.State.Used,
        Spoiled = stock.State.Spoiled,
        Overdrawn = stock.State.Overdrawn,
        Thaws = stock.State.Thaws,
        OpenedAt = stock.State.OpenedAt,
        StorageRule = stock.Lot.StorageRule,
        Expires = stock.Lot.Expires,
        DaysToExpiry = stock.DaysToExpiry,
    };

    public static StripBooksDocument Of(StripContext context) => new()
    {
        RanAt = context.RanAt,
        Bottle = context.Bottle is { } bottle ? Of(bottle) : null,
        Line = context.Line is { } line ? Of(line) : null,
        Stock = context.Stock is { } stock
            ? new StripStockDocument { Left = stock.Left, Out = stock.Out, Thaws = stock.Thaws, OpenedAt = stock.OpenedAt }
            : null,
        DaysToExpiry = context.DaysToExpiry,
    };

    public static BookEntryDocument Of(Ledger books, BookEntry entry) => new()
    {
        Id = entry.Id,
        Kind = EntryText.Word(entry),
        HappenedAt = entry.HappenedAt,
        EnteredAt = entry.Stamp.EnteredAt,
        EnteredBy = entry.Stamp.By,
        Text = EntryText.Of(books, entry),
        Note = entry.Note,
        Withdrawn = books.Entered.OfType<Withdrawal>().FirstOrDefault(w => w.WithdrawnId == entry.Id)?.Reason,
        EventKind = (entry as BookEvent)?.Kind,
        Films = (entry as FilmUse)?.Films.Select(f => new EntryFilmDocument { Format = f.Format, Count = f.Count, AreaEach = f.AreaEach }),
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

    public static BottleHistoryDocument Of(BottleView view) => new()
    {
        State = Of(view.State),
        History = view.History.Select(e => Of(view.Books, e)),
    };

    public static LineHistoryDocument Of(LineView view) => new()
    {
        State = Of(view.State),
        Methods = view.Methods.Select(e => Of(view.Books, e)),
    };

    public static MixDocument Of(MixView view) => new()
    {
        Id = view.Mix.Id,
        Name = view.Mix.Name,
        Kind = view.Mix.Kind,
        Process = view.Mix.ProcessKey,
        MixedAt = view.Mix.HappenedAt,
        AgeDays = view.Age?.TotalDays,
        VolumeLitres = view.Mix.Volume,
        ConcentrateLot = view.Mix.ConcentrateLot,
        Note = view.Mix.Note,
        Bottles = view.Bottles.Select(b => b.Bottle.Name),
    };

    public static MixBottlesDocument WithBottles(MixView view) => new()
    {
        Solution = Of(view),
        Bottles = view.Bottles.Select(Of),
    };

    public static FilmFormatDocument Of(FilmFormat format) => new()
    {
        Key = format.Key,
        Name = format.Name,
        AreaM2 = format.Area,
        Rolls = format.Area / FilmFormat.Roll,
        Basis = format.Basis,
    };

    public static IEnumerable<BookEntryDocument> Of(EntryView view) => view.Entries.Select(e => Of(view.Books, e));
}

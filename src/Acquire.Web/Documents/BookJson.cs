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

    public static EntryDocument Of(Ledger books, BookEntry entry) => new()
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

    public static IEnumerable<EntryDocument> Of(EntryView view) => view.Entries.Select(e => Of(view.Books, e));
}

internal sealed record BottleDocument
{
    public required Guid Id { get; init; }
    public required string Name { get; init; }
    public required DateTimeOffset At { get; init; }
    public required string Solution { get; init; }
    public required SolutionKind SolutionKind { get; init; }
    public required string Process { get; init; }
    public required string? ConcentrateLot { get; init; }
    public required DateTimeOffset MixedAt { get; init; }
    public required DateTimeOffset FilledAt { get; init; }
    public required double? AgeDays { get; init; }
    public required DateTimeOffset? OpenedAt { get; init; }
    public required double? OpenDays { get; init; }
    public required int Openings { get; init; }
    public required double AreaM2 { get; init; }
    public required double Rolls { get; init; }
    public required double? AreaPerLitre { get; init; }
    public required double FilledLitres { get; init; }
    public required double ToppedUpLitres { get; init; }
    public required double PouredLitres { get; init; }
    public required double LeftLitres { get; init; }
    public required double OverdrawnLitres { get; init; }
    public required double? HeadspaceLitres { get; init; }
    public required double? FillShare { get; init; }
    public required string? Container { get; init; }
    public required double? CapacityLitres { get; init; }
    public required string? Gas { get; init; }
    public required double? StorageTemperature { get; init; }
    public required DateTimeOffset? DiscardedAt { get; init; }
}

internal sealed record ProcessLineDocument
{
    public required Guid Id { get; init; }
    public required string Name { get; init; }
    public required LineKind Kind { get; init; }
    public required string Process { get; init; }
    public required string? Agitation { get; init; }
    public required double? Temperature { get; init; }
    public required double? TimeSeconds { get; init; }
    public required DateTimeOffset? MethodSince { get; init; }
    public required double AreaM2 { get; init; }
    public required DateTimeOffset? LastUsed { get; init; }
}

internal sealed record StockDocument
{
    public required string Lot { get; init; }
    public required int Left { get; init; }
    public required int Out { get; init; }
    public required int Added { get; init; }
    public required int Used { get; init; }
    public required int Spoiled { get; init; }
    public required int Overdrawn { get; init; }
    public required int Thaws { get; init; }
    public required DateTimeOffset? OpenedAt { get; init; }
    public required string? StorageRule { get; init; }
    public required DateOnly? Expires { get; init; }
    public required int? DaysToExpiry { get; init; }
}

internal sealed record StripBooksDocument
{
    public required DateTimeOffset RanAt { get; init; }
    public required BottleDocument? Bottle { get; init; }
    public required ProcessLineDocument? Line { get; init; }
    public required StripStockDocument? Stock { get; init; }
    public required int? DaysToExpiry { get; init; }
}

internal sealed record StripStockDocument
{
    public required int Left { get; init; }
    public required int Out { get; init; }
    public required int Thaws { get; init; }
    public required DateTimeOffset? OpenedAt { get; init; }
}

internal sealed record EntryDocument
{
    public required Guid Id { get; init; }
    public required string Kind { get; init; }
    public required DateTimeOffset HappenedAt { get; init; }
    public required DateTimeOffset EnteredAt { get; init; }
    public required string EnteredBy { get; init; }
    public required string Text { get; init; }
    public required string? Note { get; init; }
    public required string? Withdrawn { get; init; }
    public required BookEventKind? EventKind { get; init; }
    public required IEnumerable<EntryFilmDocument>? Films { get; init; }
    public required double? AreaM2 { get; init; }
    public required IEnumerable<string>? Bottles { get; init; }
    public required string? Line { get; init; }
    public required Guid? StripId { get; init; }
}

internal sealed record EntryFilmDocument
{
    public required string Format { get; init; }
    public required int Count { get; init; }
    public required double AreaEach { get; init; }
}

internal sealed record BottleHistoryDocument
{
    public required BottleDocument State { get; init; }
    public required IEnumerable<EntryDocument> History { get; init; }
}

internal sealed record LineHistoryDocument
{
    public required ProcessLineDocument State { get; init; }
    public required IEnumerable<EntryDocument> Methods { get; init; }
}

internal sealed record MixDocument
{
    public required Guid Id { get; init; }
    public required string Name { get; init; }
    public required SolutionKind Kind { get; init; }
    public required string Process { get; init; }
    public required DateTimeOffset MixedAt { get; init; }
    public required double? AgeDays { get; init; }
    public required double VolumeLitres { get; init; }
    public required string? ConcentrateLot { get; init; }
    public required string? Note { get; init; }
    public required IEnumerable<string> Bottles { get; init; }
}

internal sealed record MixBottlesDocument
{
    public required MixDocument Solution { get; init; }
    public required IEnumerable<BottleDocument> Bottles { get; init; }
}

internal sealed record FilmFormatDocument
{
    public required string Key { get; init; }
    public required string Name { get; init; }
    public required double AreaM2 { get; init; }
    public required double Rolls { get; init; }
    public required string Basis { get; init; }
}

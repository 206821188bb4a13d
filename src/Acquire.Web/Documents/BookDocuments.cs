namespace Acquire.Web.Documents;

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

internal sealed record BookEntryDocument
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
    public required IEnumerable<BookEntryDocument> History { get; init; }
}

internal sealed record LineHistoryDocument
{
    public required ProcessLineDocument State { get; init; }
    public required IEnumerable<BookEntryDocument> Methods { get; init; }
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

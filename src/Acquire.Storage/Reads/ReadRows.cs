namespace Acquire.Storage.Reads;

internal sealed record PatchRow
{
    public long RevisionId { get; init; }

    public int Position { get; init; }

    public string Key { get; init; } = "";

    public string Name { get; init; } = "";

    public string? LeftOutReason { get; init; }

    public string? LeftOutAt { get; init; }

    public PatchReads ToReads(ImmutableArray<PatchRead> reads) => new(
        new Patch(Key, Name), reads, LeftOutReason is null ? null : new Exclusion(LeftOutReason, Sql.Time(LeftOutAt!)));
}

internal sealed record ReadRow
{
    public long RevisionId { get; init; }

    public int PatchPosition { get; init; }

    public int ReadNumber { get; init; }

    public string? Red { get; init; }

    public string? Green { get; init; }

    public string? Blue { get; init; }

    public string? Visual { get; init; }

    public string ReadAt { get; init; } = "";

    public string? ExcludedReason { get; init; }

    public string? ExcludedAt { get; init; }

    public string? Note { get; init; }

    public PatchRead ToRead(ImmutableArray<RawLine> lines) => new(
        new Reading(
            new ChannelDensities(Sql.Density(Red), Sql.Density(Green), Sql.Density(Blue), Sql.Density(Visual)), Sql.Time(ReadAt), lines),
        ExcludedReason is null ? null : new Exclusion(ExcludedReason, Sql.Time(ExcludedAt!))) { Note = Note };
}

internal sealed record ReadLineRow
{
    public long RevisionId { get; init; }

    public int PatchPosition { get; init; }

    public int ReadNumber { get; init; }

    public string ReceivedAt { get; init; } = "";

    public byte[] Bytes { get; init; } = [];

    public RawLine ToLine() => new(ImmutableArray.Create(Bytes), Sql.Time(ReceivedAt));
}

using Acquire.Analysis.Judgement;
using Acquire.Analysis.Uncertainty;
using Acquire.Bench.Strips;

namespace Acquire.Web.Documents;

/// <summary>A strip of a list. Names of properties are a contract; new ones may be added.</summary>
internal static class StripListJson
{
    public static ListedStripDocument Of(JudgedStrip listed) => new()
    {
        Id = listed.Strip.Id,
        ReadAt = listed.Strip.Provenance.At,
        Lot = listed.Strip.LotCode,
        Process = listed.Strip.JudgedBy.Key,
        Line = listed.Strip.Tags.Line,
        Bottle = listed.Strip.Tags.Bottle,
        Confirms = listed.Strip.Tags.Confirms,
        RereadOf = listed.Strip.Tags.Reread?.Of,
        Treatment = listed.Strip.Tags.Reread?.After.Word(),
        PairedWith = listed.Strip.Tags.PairedWith,
        Zone = listed.Judgement.Overall,
        Verdict = listed.Judgement.Verdict.Code(),
        RestsOnAssumed = AssumptionLine.Code(listed.Judgement.RestsOnAssumption),
        Revision = listed.Strip.Revision.Number,
    };
}

/// <summary>The revisions of a record.</summary>
internal static class StripRevisionJson
{
    /// <param name="revisions">All of one record, first to newest.</param>
    public static IEnumerable<StripRevisionDocument> Of(IReadOnlyList<StripRecord> revisions) =>
        revisions.Select((r, i) => Of(r, i == 0 ? null : revisions[i - 1]));

    /// <summary>One revision for other programs.</summary>
    public static StripRevisionDocument Of(StripRecord revision, StripRecord? before) => new()
    {
        Id = revision.Id,
        Revision = revision.Revision.Number,
        By = revision.Revision.By,
        At = revision.Revision.At,
        Reason = revision.Revision.Reason,
        Changes = before is null ? [] : RevisionChanges.Between(before, revision),
    };
}

internal sealed record ListedStripDocument
{
    public required Guid Id { get; init; }
    public required DateTimeOffset ReadAt { get; init; }
    public required string Lot { get; init; }
    public required string Process { get; init; }
    public required string? Line { get; init; }
    public required string? Bottle { get; init; }
    public required Guid? Confirms { get; init; }
    public required Guid? RereadOf { get; init; }
    public required string? Treatment { get; init; }
    public required Guid? PairedWith { get; init; }
    public required Zone? Zone { get; init; }
    public required string? Verdict { get; init; }
    public required string? RestsOnAssumed { get; init; }
    public required int Revision { get; init; }
}

internal sealed record StripRevisionDocument
{
    public required Guid Id { get; init; }
    public required int Revision { get; init; }
    public required string By { get; init; }
    public required DateTimeOffset At { get; init; }
    public required string Reason { get; init; }
    public required ImmutableArray<FieldChange> Changes { get; init; }
}

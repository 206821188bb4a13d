using Acquire.Bench.Lots;
using Acquire.Bench.Readings;
using Acquire.Bench.Sessions;

namespace Acquire.Web.Documents;

/// <summary>Lots and their aims for other programs. Names of properties are a contract; new ones may be added.</summary>
internal static class LotJson
{
    public static LotDocument Of(ListedLot listed) => Row(listed.Lot, listed.Reference);

    public static LotAimsDocument Of(LotEntry entry) =>
        Of(entry.Lot, entry.Reference, entry.InForce.Aims, entry.InForce.Repeatability, null);

    public static LotAimsDocument Of(KeptReference kept) => Of(kept.Lot, kept.Reference, kept.Aims, kept.Repeatability, kept.Question);

    public static LotAimsDocument Of(
        StripLot lot,
        LotReference? reference,
        ImmutableArray<Aim> aims,
        RepeatabilityInForce? repeatability,
        AskedQuestion? question) => new()
    {
        Lot = Row(lot, reference),
        Aims = aims.Select(a => new LotAimsAimDocument
        {
            Patch = a.PatchKey,
            Channel = a.Channel.Word(),
            Reference = a.Reference,
            Correction = a.Correction,
            Adjustment = a.Adjustment,
            Aim = a.Value,
            Uncertainty = a.StandardUncertainty,
        }),
        RepeatabilityId = repeatability?.TestId,
        Question = question is null ? null : new LotAimsQuestionDocument { Kind = question.Kind, Question = question.Question },
    };

    private static LotDocument Row(StripLot lot, LotReference? reference) => new()
    {
        Code = lot.Code,
        Process = lot.ProcessKey,
        Expires = lot.Expires,
        StorageRule = lot.StorageRule,
        Note = lot.Note,
        Layout = lot.Layout.Name,
        Patches = lot.Layout.Patches.Select(p => p.Key),
        Corrections = lot.CorrectionFactors.Select(
            f => new LotCorrectionDocument { Patch = f.PatchKey, Channel = f.Channel.Word(), Value = f.Value }),
        ReferenceRead = reference?.Provenance.At,
        BaselineStrips = reference?.BaselineStrips ?? [],
        ReferenceOrigin = reference?.Origin is not { } origin
            ? null
            : new LotReferenceOriginDocument
            {
                Reads = origin.Reads,
                Profile = origin.Profile,
                Instrument = origin.Instrument,
                ListUncertainty = origin.ListUncertainty,
            },
    };
}

internal sealed record LotAimsDocument
{
    public required LotDocument Lot { get; init; }
    public required IEnumerable<LotAimsAimDocument> Aims { get; init; }
    public required Guid? RepeatabilityId { get; init; }
    public required LotAimsQuestionDocument? Question { get; init; }
}

internal sealed record LotAimsAimDocument
{
    public required string Patch { get; init; }
    public required string Channel { get; init; }
    public required double Reference { get; init; }
    public required double Correction { get; init; }
    public required double Adjustment { get; init; }
    public required double Aim { get; init; }
    public required double Uncertainty { get; init; }
}

internal sealed record LotAimsQuestionDocument
{
    public required string Kind { get; init; }
    public required string Question { get; init; }
}

internal sealed record LotDocument
{
    public required string Code { get; init; }
    public required string Process { get; init; }
    public required DateOnly? Expires { get; init; }
    public required string? StorageRule { get; init; }
    public required string? Note { get; init; }
    public required string Layout { get; init; }
    public required IEnumerable<string> Patches { get; init; }
    public required IEnumerable<LotCorrectionDocument> Corrections { get; init; }
    public required DateTimeOffset? ReferenceRead { get; init; }
    public required ImmutableArray<Guid> BaselineStrips { get; init; }
    public required LotReferenceOriginDocument? ReferenceOrigin { get; init; }
}

internal sealed record LotCorrectionDocument
{
    public required string Patch { get; init; }
    public required string Channel { get; init; }
    public required double Value { get; init; }
}

internal sealed record LotReferenceOriginDocument
{
    public required int? Reads { get; init; }
    public required string? Profile { get; init; }
    public required string? Instrument { get; init; }
    public required double? ListUncertainty { get; init; }
}

using Acquire.Analysis.StripWork;
using Acquire.Bench.Lots;

namespace Acquire.Web.Documents;

/// <summary>The change from one lot to the next for other programs.</summary>
internal static class CrossoverJson
{
    public static CrossoverDocument Of(CrossoverResult result) => Of(result.Crossover, result.InForce, result.IsAccepted);

    private static CrossoverDocument Of(Crossover crossover, AimAdjustment? inForce, bool accepted) => new()
    {
        OldLot = crossover.OldLot,
        NewLot = crossover.NewLot,
        IsEnough = crossover.IsEnough,
        Agrees = crossover.Agrees,
        Words = crossover.Words(),
        Pairs = crossover.Pairs.Select(p => new CrossoverPairDocument { Old = p.Old.Id, New = p.New.Id, ReadAt = p.New.Provenance.At }),
        Rows = crossover.Rows.Select(r => new CrossoverRowDocument
        {
            Patch = r.Aim.PatchKey,
            Channel = r.Aim.Channel.Word(),
            Deviations = r.Differences.Select(d => new CrossoverRowDeviationDocument { Old = d.Old, New = d.New }),
            Difference = r.Average,
            Scatter = r.Scatter,
            Uncertainty = r.PairUncertainty,
            HalfInterval = r.HalfInterval,
            Aim = r.Aim.Reference + r.Aim.Correction,
            AdjustedAim = r.AdjustedAim,
            AdjustedUncertainty = r.AdjustedUncertainty,
            Agrees = r.Agrees,
        }),
        Accepted = accepted ? Of(inForce!) : null,
        InForce = inForce is null ? null : Of(inForce),
    };

    private static AdjustmentDocument Of(AimAdjustment adjustment) => new()
    {
        Id = adjustment.Id,
        By = adjustment.By,
        At = adjustment.At,
        Reason = adjustment.Reason,
        OldLot = adjustment.FromLotCode,
        Pairs = adjustment.Pairs.Select(p => new AdjustmentPairDocument { Old = p.Old, New = p.New }),
    };
}

internal sealed record CrossoverDocument
{
    public required string OldLot { get; init; }
    public required string NewLot { get; init; }
    public required bool IsEnough { get; init; }
    public required bool Agrees { get; init; }
    public required string Words { get; init; }
    public required IEnumerable<CrossoverPairDocument> Pairs { get; init; }
    public required IEnumerable<CrossoverRowDocument> Rows { get; init; }
    public required AdjustmentDocument? Accepted { get; init; }
    public required AdjustmentDocument? InForce { get; init; }
}

internal sealed record CrossoverPairDocument
{
    public required Guid Old { get; init; }
    public required Guid New { get; init; }
    public required DateTimeOffset ReadAt { get; init; }
}

internal sealed record CrossoverRowDocument
{
    public required string Patch { get; init; }
    public required string Channel { get; init; }
    public required IEnumerable<CrossoverRowDeviationDocument> Deviations { get; init; }
    public required double Difference { get; init; }
    public required double? Scatter { get; init; }
    public required double Uncertainty { get; init; }
    public required double? HalfInterval { get; init; }
    public required double Aim { get; init; }
    public required double AdjustedAim { get; init; }
    public required double AdjustedUncertainty { get; init; }
    public required bool Agrees { get; init; }
}

internal sealed record CrossoverRowDeviationDocument
{
    public required double Old { get; init; }
    public required double New { get; init; }
}

internal sealed record AdjustmentDocument
{
    public required Guid Id { get; init; }
    public required string By { get; init; }
    public required DateTimeOffset At { get; init; }
    public required string Reason { get; init; }
    public required string OldLot { get; init; }
    public required IEnumerable<AdjustmentPairDocument> Pairs { get; init; }
}

internal sealed record AdjustmentPairDocument
{
    public required Guid Old { get; init; }
    public required Guid New { get; init; }
}

using Acquire.Analysis.Control;
using Acquire.Analysis.Judgement;
using Acquire.Bench.Daily;

namespace Acquire.Web.Documents;

/// <summary>The day for other programs. Names are a contract; new ones may be added.</summary>
internal static class DailyJson
{
    public static DailyDocument Of(DailyBoard board) => new()
    {
        At = board.Facts.Now,
        Answer = board.Answer,
        Stops = board.Stops,
        Lines = board.Lines.Select(l => new DailyLineDocument
        {
            Line = l.Facts.Name,
            Process = l.Facts.Process,
            Says = l.Says,
            NeedsStrip = l.NeedsStrip,
            Why = l.Why,
            RestsOnAssumed = AssumptionLine.Code(l.RestsOnAssumption),
            StripId = l.Facts.Newest?.StripId,
            StripAt = l.Facts.Newest?.At,
            StripAgeDays = l.StripAge?.TotalDays,
            Lot = l.Facts.Newest?.Lot,
            Moving = l.Facts.Moving.Select(f => new DailyLineMovingDocument
            {
                ParameterKey = f.ParameterKey,
                Shape = f.Shape,
                Began = f.Began,
                Step = f.Step,
                Sentence = f.Sentence,
            }),
        }),
        Bottles = board.Facts.Bottles.Select(b => new DailyBottleDocument
        {
            Bottle = b.State.Bottle.Name,
            Solution = b.State.Solution.Name,
            AgeDays = b.State.Age?.TotalDays,
            AreaPerLitre = b.State.AreaPerLitre,
            Worst = b.Standing?.Worst?.Name,
            Deviation = b.Standing?.Worst is null ? null : (double?)b.Standing.Deviation,
            InsideProbability = b.Standing?.Worst is null ? null : (double?)b.Standing.InsideProbability,
            DaysLeft = b.Standing?.DaysLeft?.Estimate,
        }),
        Instruments = board.Facts.Instruments.Select(
            i => new DailyInstrumentDocument
            {
                Name = i.Name,
                Profile = i.Profile,
                CheckDueAt = i.Check.InForce?.DueAt,
                CheckLacking = i.Check.Lacking,
                HasRepeatability = i.HasRepeatability,
            }),
        Lots = board.Facts.Lots.Select(l => new DailyLotDocument { Code = l.Code, Left = l.Left, DaysToExpiry = l.DaysToExpiry }),
        Unfinished = board.Facts.Unfinished.Select(u => new DailyUnfinishedDocument { What = u.What, Id = u.Id }),
        First = board.ToDo,
    };
}

internal sealed record DailyDocument
{
    public required DateTimeOffset At { get; init; }
    public required string Answer { get; init; }
    public required bool Stops { get; init; }
    public required IEnumerable<DailyLineDocument> Lines { get; init; }
    public required IEnumerable<DailyBottleDocument> Bottles { get; init; }
    public required IEnumerable<DailyInstrumentDocument> Instruments { get; init; }
    public required IEnumerable<DailyLotDocument> Lots { get; init; }
    public required IEnumerable<DailyUnfinishedDocument> Unfinished { get; init; }
    public required ImmutableArray<string> First { get; init; }
}

internal sealed record DailyLineDocument
{
    public required string? Line { get; init; }
    public required string Process { get; init; }
    public required StripSays Says { get; init; }
    public required bool NeedsStrip { get; init; }
    public required string Why { get; init; }
    public required string? RestsOnAssumed { get; init; }
    public required Guid? StripId { get; init; }
    public required DateTimeOffset? StripAt { get; init; }
    public required double? StripAgeDays { get; init; }
    public required string? Lot { get; init; }
    public required IEnumerable<DailyLineMovingDocument> Moving { get; init; }
}

internal sealed record DailyLineMovingDocument
{
    public required string ParameterKey { get; init; }
    public required DriftShape Shape { get; init; }
    public required DateTimeOffset Began { get; init; }
    public required double Step { get; init; }
    public required string Sentence { get; init; }
}

internal sealed record DailyBottleDocument
{
    public required string Bottle { get; init; }
    public required string Solution { get; init; }
    public required double? AgeDays { get; init; }
    public required double? AreaPerLitre { get; init; }
    public required string? Worst { get; init; }
    public required double? Deviation { get; init; }
    public required double? InsideProbability { get; init; }
    public required double? DaysLeft { get; init; }
}

internal sealed record DailyInstrumentDocument
{
    public required string Name { get; init; }
    public required string Profile { get; init; }
    public required DateTimeOffset? CheckDueAt { get; init; }
    public required string? CheckLacking { get; init; }
    public required bool HasRepeatability { get; init; }
}

internal sealed record DailyLotDocument
{
    public required string Code { get; init; }
    public required int? Left { get; init; }
    public required int? DaysToExpiry { get; init; }
}

internal sealed record DailyUnfinishedDocument
{
    public required string What { get; init; }
    public required string Id { get; init; }
}

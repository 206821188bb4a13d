using Acquire.Analysis.Judgement;
using Acquire.Analysis.Uncertainty;
using Acquire.Bench.Books;
using Acquire.Bench.Strips;

namespace Acquire.Web.Documents;

/// <summary>A strip for other programs. Names of properties are a contract; new ones may be added.</summary>
internal static class StripJson
{
    public static StripDocument Of(StripRecord strip, StripJudgement judgement, StripTies? ties = null, StripContext? books = null) => new()
    {
        Id = strip.Id,
        Revision = strip.Revision.Number,
        Lot = strip.LotCode,
        Process = strip.JudgedBy.Key,
        Layout = strip.Layout.Name,
        Line = strip.Tags.Line,
        Bottle = strip.Tags.Bottle,
        Note = strip.Tags.Note,
        ReadAt = strip.Provenance.At,
        ReadBy = strip.Provenance.By,
        Instrument = strip.Provenance.Instrument,
        SessionId = strip.SessionId,
        ReferenceId = strip.ReferenceId,
        CheckId = strip.CheckId,
        CheckLacking = strip.CheckLacking,
        Books = books is null ? null : BookJson.Of(books),
        Confirms = strip.Tags.Confirms,
        RereadOf = strip.Tags.Reread?.Of,
        Treatment = strip.Tags.Reread?.After.Word(),
        PairedWith = strip.Tags.PairedWith,
        Handling = strip.Tags.Handling,
        Questions = QuestionJson.Of(strip.Questions),
        Zone = judgement.Overall,
        Verdict = judgement.Verdict.Code(),
        RestsOnAssumed = AssumptionLine.Code(judgement.RestsOnAssumption),
        WhatATestChanges = AssumptionLine.WhatATestChanges(
            judgement, judgement.Ground?.Instrument.Assumptions ?? Analysis.Gauge.Assumptions.Default),
        VerdictLevel = judgement.Results.Select(r => r.Verdict?.Level).FirstOrDefault(l => l is not null),
        SecondStrip = StripWorkJson.Of(ties?.Confirmation),
        SecondReading = StripWorkJson.Of(ties?.Again),
        Parameters = judgement.Results.Select(r => new StripParameterDocument
        {
            Name = r.Parameter.Name,
            Key = r.Parameter.Key,
            Channel = r.Channel?.Word(),
            Value = r.Value,
            Aim = r.Aim,
            Deviation = r.Deviation,
            Uncertainty = r.StandardUncertainty,
            RestsOnAssumed = AssumptionLine.Code(r.RestsOnAssumption),
            Spread = r.Spread?.Estimate() is var (estimate, low, high)
                ? new StripParameterSpreadDocument { Estimate = estimate, Low = low, High = high }
                : null,
            Zone = r.Zone,
            Verdict = (r.Verdict?.Verdict).Code(),
            ProbabilityInside = r.Verdict?.ProbabilityInside,
            ProbabilityInsideAction = r.Verdict?.ProbabilityInsideAction,
            MoreReads = r.Verdict?.MoreReads,
            Budget = r.Budget?.Components.Select(c => new StripParameterBudgetDocument
            {
                Name = c.Name,
                Uncertainty = Math.Abs(c.Contribution),
                DegreesOfFreedom = double.IsPositiveInfinity(c.DegreesOfFreedom) ? (double?)null : c.DegreesOfFreedom,
            }),
            Unit = r.Parameter.Unit,
            OnStrip = r.OnStrip,
            ActionLower = r.Limits.Action?.Lower,
            ActionUpper = r.Limits.Action?.Upper,
            ControlLower = r.Limits.Control?.Lower,
            ControlUpper = r.Limits.Control?.Upper,
            WhyMissing = r.WhyMissing,
            Speed = r.Speed,
        }),
        Patches = strip.Patches.Select(p => new StripPatchDocument
        {
            Key = p.Patch.Key,
            Name = p.Patch.Name,
            LogH = strip.JudgedBy.LayoutOf(strip.Layout)?.Find(p.Patch.Key)?.LogH,
            LeftOut = p.LeftOut?.Reason,
            Means = strip.Means.Where(m => m.PatchKey == p.Patch.Key).Select(m => new StripPatchMeanDocument
            {
                Channel = m.Channel.Word(),
                Mean = m.Mean,
                Reads = m.Reads,
                StandardDeviation = m.StandardDeviation,
            }),
            Aims = strip.Aims.Where(a => a.PatchKey == p.Patch.Key).Select(a => new StripPatchAimDocument
            {
                Channel = a.Channel.Word(),
                Aim = a.Value,
                Reference = a.Reference,
                Correction = a.Correction,
                Adjustment = a.Adjustment,
                Uncertainty = a.StandardUncertainty,
            }),
            Reads = p.Reads.Select(r => new StripPatchReadDocument
            {
                At = r.Reading.At,
                Red = r.Reading.Densities.Red?.Value,
                Green = r.Reading.Densities.Green?.Value,
                Blue = r.Reading.Densities.Blue?.Value,
                Visual = r.Reading.Densities.Visual?.Value,
                Excluded = r.Exclusion?.Reason,
                Note = r.Note,
                Lines = r.Reading.Lines.Select(l => l.Text),
            }),
        }),
    };
}

internal sealed record StripDocument
{
    public required Guid Id { get; init; }
    public required int Revision { get; init; }
    public required string Lot { get; init; }
    public required string Process { get; init; }
    public required string Layout { get; init; }
    public required string? Line { get; init; }
    public required string? Bottle { get; init; }
    public required string? Note { get; init; }
    public required DateTimeOffset ReadAt { get; init; }
    public required string ReadBy { get; init; }
    public required InstrumentInUse? Instrument { get; init; }
    public required Guid? SessionId { get; init; }
    public required Guid? ReferenceId { get; init; }
    public required Guid? CheckId { get; init; }
    public required string? CheckLacking { get; init; }
    public required StripBooksDocument? Books { get; init; }
    public required Guid? Confirms { get; init; }
    public required Guid? RereadOf { get; init; }
    public required string? Treatment { get; init; }
    public required Guid? PairedWith { get; init; }
    public required string? Handling { get; init; }
    public required IEnumerable<QuestionDocument> Questions { get; init; }
    public required Zone? Zone { get; init; }
    public required string? Verdict { get; init; }
    public required string? RestsOnAssumed { get; init; }
    public required string? WhatATestChanges { get; init; }
    public required double? VerdictLevel { get; init; }
    public required SecondStripDocument? SecondStrip { get; init; }
    public required SecondReadingDocument? SecondReading { get; init; }
    public required IEnumerable<StripParameterDocument> Parameters { get; init; }
    public required IEnumerable<StripPatchDocument> Patches { get; init; }
}

internal sealed record StripParameterDocument
{
    public required string Name { get; init; }
    public required string Key { get; init; }
    public required string? Channel { get; init; }
    public required double? Value { get; init; }
    public required double? Aim { get; init; }
    public required double? Deviation { get; init; }
    public required double? Uncertainty { get; init; }
    public required string? RestsOnAssumed { get; init; }
    public required StripParameterSpreadDocument? Spread { get; init; }
    public required Zone? Zone { get; init; }
    public required string? Verdict { get; init; }
    public required double? ProbabilityInside { get; init; }
    public required double? ProbabilityInsideAction { get; init; }
    public required int? MoreReads { get; init; }
    public required IEnumerable<StripParameterBudgetDocument>? Budget { get; init; }
    public required string Unit { get; init; }
    public required bool OnStrip { get; init; }
    public required double? ActionLower { get; init; }
    public required double? ActionUpper { get; init; }
    public required double? ControlLower { get; init; }
    public required double? ControlUpper { get; init; }
    public required string? WhyMissing { get; init; }
    public required SpeedResult? Speed { get; init; }
}

internal sealed record StripParameterSpreadDocument
{
    public required double Estimate { get; init; }
    public required double Low { get; init; }
    public required double High { get; init; }
}

internal sealed record StripParameterBudgetDocument
{
    public required string Name { get; init; }
    public required double Uncertainty { get; init; }
    public required double? DegreesOfFreedom { get; init; }
}

internal sealed record StripPatchDocument
{
    public required string Key { get; init; }
    public required string Name { get; init; }
    public required double? LogH { get; init; }
    public required string? LeftOut { get; init; }
    public required IEnumerable<StripPatchMeanDocument> Means { get; init; }
    public required IEnumerable<StripPatchAimDocument> Aims { get; init; }
    public required IEnumerable<StripPatchReadDocument> Reads { get; init; }
}

internal sealed record StripPatchMeanDocument
{
    public required string Channel { get; init; }
    public required double Mean { get; init; }
    public required int Reads { get; init; }
    public required double? StandardDeviation { get; init; }
}

internal sealed record StripPatchAimDocument
{
    public required string Channel { get; init; }
    public required double Aim { get; init; }
    public required double Reference { get; init; }
    public required double Correction { get; init; }
    public required double Adjustment { get; init; }
    public required double Uncertainty { get; init; }
}

internal sealed record StripPatchReadDocument
{
    public required DateTimeOffset At { get; init; }
    public required decimal? Red { get; init; }
    public required decimal? Green { get; init; }
    public required decimal? Blue { get; init; }
    public required decimal? Visual { get; init; }
    public required string? Excluded { get; init; }
    public required string? Note { get; init; }
    public required IEnumerable<string> Lines { get; init; }
}

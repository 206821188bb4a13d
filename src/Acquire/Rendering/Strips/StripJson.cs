using Acquire.Analysis.Judgement;
using Acquire.Analysis.Uncertainty;
using Acquire.Bench.Books;
using Acquire.Bench.Strips;
using Acquire.Rendering.Books;
using Acquire.Rendering.Sessions;

namespace Acquire.Rendering.Strips;

/// <summary>A strip for other programs. Names of properties are a contract; new ones may be added.</summary>
internal static class StripJson
{
    public static object Of(StripRecord strip, StripJudgement judgement, StripTies? ties = null, StripContext? books = null) => new
    {
        strip.Id,
        Revision = strip.Revision.Number,
        Lot = strip.LotCode,
        Process = strip.JudgedBy.Key,
        Layout = strip.Layout.Name,
        strip.Tags.Line,
        strip.Tags.Bottle,
        strip.Tags.Note,
        ReadAt = strip.Provenance.At,
        ReadBy = strip.Provenance.By,
        strip.Provenance.Instrument,
        strip.SessionId,
        strip.ReferenceId,
        strip.CheckId,
        strip.CheckLacking,
        Books = books is null ? null : BookJson.Of(books),
        strip.Tags.Confirms,
        RereadOf = strip.Tags.Reread?.Of,
        Treatment = strip.Tags.Reread?.After.Word(),
        strip.Tags.PairedWith,
        strip.Tags.Handling,
        Questions = QuestionLine.Json(strip.Questions),
        Zone = judgement.Overall,
        Verdict = judgement.Verdict.Code(),
        RestsOnAssumed = AssumptionLine.Code(judgement.RestsOnAssumption),
        WhatATestChanges = AssumptionLine.WhatATestChanges(
            judgement, judgement.Ground?.Instrument.Assumptions ?? Analysis.Gauge.Assumptions.Default),
        VerdictLevel = judgement.Results.Select(r => r.Verdict?.Level).FirstOrDefault(l => l is not null),
        SecondStrip = StripWorkReport.Json(ties?.Confirmation),
        SecondReading = StripWorkReport.Json(ties?.Again),
        Parameters = judgement.Results.Select(r => new
        {
            r.Parameter.Name,
            r.Parameter.Key,
            Channel = r.Channel?.Word(),
            r.Value,
            r.Aim,
            r.Deviation,
            Uncertainty = r.StandardUncertainty,
            RestsOnAssumed = AssumptionLine.Code(r.RestsOnAssumption),
            Spread = r.Spread?.Estimate() is var (estimate, low, high) ? new { Estimate = estimate, Low = low, High = high } : null,
            r.Zone,
            Verdict = (r.Verdict?.Verdict).Code(),
            r.Verdict?.ProbabilityInside,
            r.Verdict?.ProbabilityInsideAction,
            r.Verdict?.MoreReads,
            Budget = r.Budget?.Components.Select(c => new
            {
                c.Name,
                Uncertainty = Math.Abs(c.Contribution),
                DegreesOfFreedom = double.IsPositiveInfinity(c.DegreesOfFreedom) ? (double?)null : c.DegreesOfFreedom,
            }),
            r.Parameter.Unit,
            r.OnStrip,
            ActionLower = r.Limits.Action?.Lower,
            ActionUpper = r.Limits.Action?.Upper,
            ControlLower = r.Limits.Control?.Lower,
            ControlUpper = r.Limits.Control?.Upper,
            r.WhyMissing,
            r.Speed,
        }),
        Patches = strip.Patches.Select(p => new
        {
            p.Patch.Key,
            p.Patch.Name,
            LogH = strip.JudgedBy.LayoutOf(strip.Layout)?.Find(p.Patch.Key)?.LogH,
            LeftOut = p.LeftOut?.Reason,
            Means = strip.Means.Where(m => m.PatchKey == p.Patch.Key).Select(m => new
            {
                Channel = m.Channel.Word(),
                m.Mean,
                m.Reads,
                m.StandardDeviation,
            }),
            Aims = strip.Aims.Where(a => a.PatchKey == p.Patch.Key).Select(a => new
            {
                Channel = a.Channel.Word(),
                Aim = a.Value,
                a.Reference,
                a.Correction,
                a.Adjustment,
                Uncertainty = a.StandardUncertainty,
            }),
            Reads = p.Reads.Select(r => new
            {
                r.Reading.At,
                Red = r.Reading.Densities.Red?.Value,
                Green = r.Reading.Densities.Green?.Value,
                Blue = r.Reading.Densities.Blue?.Value,
                Visual = r.Reading.Densities.Visual?.Value,
                Excluded = r.Exclusion?.Reason,
                r.Note,
                Lines = r.Reading.Lines.Select(l => l.Text),
            }),
        }),
    };
}

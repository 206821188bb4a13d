using Acquire.Analysis.Causes;
using Acquire.Analysis.Control;
using Acquire.Bench.Causes;

namespace Acquire.Web.Documents;

/// <summary>The causes of a strip for other programs: every number of the text, and what was put in.</summary>
internal static class CauseJson
{
    public static CauseDocument Of(CauseCase found) => new()
    {
        StripId = found.Asked.Id,
        WeighedId = found.Strip.Id,
        Words = CauseWords.First(found.Study),
        NothingHappened = found.Study.NothingHappened,
        NothingProbability = found.Study.NothingProbability,
        WhyNone = found.Study.WhyNone,
        Groups = found.Study.Groups.Select(g => new CauseGroupDocument
        {
            Family = g.Family.Key,
            Name = g.Family.Name,
            Probability = g.Probability,
            Causes = g.Causes.Select(c => new CauseGroupCauseDocument
            {
                Key = c.Of.Key,
                Name = c.Of.Name,
                Probability = c.Probability,
                Size = c.Size,
                Supporting = c.Supporting.Select(Observed),
                Contradicting = c.Contradicting.Select(Observed),
                Circumstances = c.Circumstances,
                FirstCheck = c.Of.FirstCheck,
                Confidence = (c.Of as FaultSignature)?.Confidence,
                Source = c.Of.Source,
            }),
        }),
        Pairs = found.Study.Pairs.Select(
            p => new CausePairDocument { First = p.First.Key, Second = p.Second.Key, Probability = p.Probability }),
        FitsNothing = found.Study.FitsNothing,
        Steps = found.Study.Steps,
        Tests = found.Tests.Select(
            t => new CauseTestDocument
            {
                Key = t.Fault.Key,
                Name = t.Fault.Name,
                Treatment = t.Treatment.Word(),
                Before = t.Before,
                CameBack = t.CameBack,
                StandardError = t.StandardError,
                Outcome = t.Outcome,
            }),
        Context = new CauseContextDocument
        {
            StripsBefore = found.StripsBefore,
            Shape = found.Context.Shape,
            ChangeSince = found.Context.Before?.Id,
            Scatter = new CauseContextScatterDocument { Run = found.Context.Scatter.Run, Own = found.Context.Scatter.Own },
            OtherLots = found.Context.OtherLots.Select(l => l.Code),
            CheckLacking = found.Context.CheckLacking,
            LotExpired = found.Context.LotExpired,
            Thaws = found.Context.Thaws,
            NewMix = found.Context.NewMix,
            Repaired = found.Context.Repaired,
            PauseDays = found.Context.PauseDays,
            AgeDays = found.Context.AgeDays,
            RollsPerLitre = found.Context.RollsPerLitre,
            RuledOut = found.Context.RuledOut.Order(StringComparer.Ordinal),
            BorneOut = found.Context.BorneOut.Order(StringComparer.Ordinal),
        },
        Note = CauseWords.Last,
    };

    private static CauseObservedDocument Observed(Observation o) =>
        new()
        {
            Patch = o.PatchName,
            Channel = o.Channel.Word(),
            Deviation = o.Deviation,
            Expected = o.Expected,
            Scatter = o.Scatter,
        };
}

internal sealed record CauseDocument
{
    public required Guid StripId { get; init; }
    public required Guid WeighedId { get; init; }
    public required string Words { get; init; }
    public required bool NothingHappened { get; init; }
    public required double NothingProbability { get; init; }
    public required string? WhyNone { get; init; }
    public required IEnumerable<CauseGroupDocument> Groups { get; init; }
    public required IEnumerable<CausePairDocument> Pairs { get; init; }
    public required bool FitsNothing { get; init; }
    public required ImmutableArray<string> Steps { get; init; }
    public required IEnumerable<CauseTestDocument> Tests { get; init; }
    public required CauseContextDocument Context { get; init; }
    public required string Note { get; init; }
}

internal sealed record CauseGroupDocument
{
    public required string Family { get; init; }
    public required string Name { get; init; }
    public required double Probability { get; init; }
    public required IEnumerable<CauseGroupCauseDocument> Causes { get; init; }
}

internal sealed record CauseGroupCauseDocument
{
    public required string Key { get; init; }
    public required string Name { get; init; }
    public required double Probability { get; init; }
    public required double Size { get; init; }
    public required IEnumerable<CauseObservedDocument> Supporting { get; init; }
    public required IEnumerable<CauseObservedDocument> Contradicting { get; init; }
    public required ImmutableArray<string> Circumstances { get; init; }
    public required string FirstCheck { get; init; }
    public required DirectionConfidence? Confidence { get; init; }
    public required string Source { get; init; }
}

internal sealed record CausePairDocument
{
    public required string First { get; init; }
    public required string Second { get; init; }
    public required double Probability { get; init; }
}

internal sealed record CauseTestDocument
{
    public required string Key { get; init; }
    public required string Name { get; init; }
    public required string Treatment { get; init; }
    public required double Before { get; init; }
    public required double CameBack { get; init; }
    public required double StandardError { get; init; }
    public required TestOutcome Outcome { get; init; }
}

internal sealed record CauseContextDocument
{
    public required int StripsBefore { get; init; }
    public required DriftShape? Shape { get; init; }
    public required Guid? ChangeSince { get; init; }
    public required CauseContextScatterDocument Scatter { get; init; }
    public required IEnumerable<string> OtherLots { get; init; }
    public required bool CheckLacking { get; init; }
    public required bool LotExpired { get; init; }
    public required int? Thaws { get; init; }
    public required bool NewMix { get; init; }
    public required bool Repaired { get; init; }
    public required double? PauseDays { get; init; }
    public required double? AgeDays { get; init; }
    public required double? RollsPerLitre { get; init; }
    public required IOrderedEnumerable<string> RuledOut { get; init; }
    public required IOrderedEnumerable<string> BorneOut { get; init; }
}

internal sealed record CauseContextScatterDocument
{
    public required double Run { get; init; }
    public required double Own { get; init; }
}

internal sealed record CauseObservedDocument
{
    public required string Patch { get; init; }
    public required string Channel { get; init; }
    public required double Deviation { get; init; }
    public required double Expected { get; init; }
    public required double Scatter { get; init; }
}

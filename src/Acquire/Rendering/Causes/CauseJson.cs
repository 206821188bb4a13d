using Acquire.Analysis.Causes;
using Acquire.Bench.Causes;

namespace Acquire.Rendering.Causes;

/// <summary>The causes of a strip for other programs: every number of the text, and what was put in.</summary>
internal static class CauseJson
{
    public static object Of(CauseStudy study, CauseCase found) => new
    {
        StripId = found.Asked.Id,
        WeighedId = found.Strip.Id,
        Words = CauseWords.First(study),
        study.NothingHappened,
        study.NothingProbability,
        study.WhyNone,
        Groups = study.Groups.Select(g => new
        {
            Family = g.Family.Key,
            Name = g.Family.Name,
            g.Probability,
            Causes = g.Causes.Select(c => new
            {
                c.Signature.Key,
                c.Signature.Name,
                c.Probability,
                c.Size,
                Supporting = c.Supporting.Select(Observed),
                Contradicting = c.Contradicting.Select(Observed),
                c.Circumstances,
                c.Signature.FirstCheck,
                c.Signature.Confidence,
                c.Signature.Source,
            }),
        }),
        study.Steps,
        Tests = found.Tests.Select(
            t => new { t.Fault.Key, t.Fault.Name, Treatment = t.Treatment.Word(), t.Before, t.CameBack, t.StandardError, t.Outcome }),
        Context = new
        {
            found.StripsBefore,
            found.Context.Shape,
            ChangeSince = found.Context.Before?.Id,
            found.Context.CheckLacking,
            found.Context.LotExpired,
            found.Context.Thaws,
            found.Context.NewMix,
            found.Context.Repaired,
            found.Context.PauseDays,
            found.Context.AgeDays,
            found.Context.RollsPerLitre,
            RuledOut = found.Context.RuledOut.Order(StringComparer.Ordinal),
            BorneOut = found.Context.BorneOut.Order(StringComparer.Ordinal),
        },
        Note = CauseWords.Last,
    };

    private static object Observed(Observation o) =>
        new { Patch = o.PatchName, Channel = o.Channel.Word(), o.Deviation, o.Expected, o.Scatter };
}

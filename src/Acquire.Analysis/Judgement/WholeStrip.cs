using Acquire.Analysis.Uncertainty;

namespace Acquire.Analysis.Judgement;

/// <summary>What a strip says as a whole, with the probability asked for. Of a dozen results that each are called at 95 % one is easily
/// called wrongly, so the strip is not the worst of them.</summary>
/// <remarks>
/// Out: the results are stepped through from the least probable to be inside, each asked for as much as keeps the chance of calling any
/// result wrongly to that of one (Holm, <i>Scandinavian Journal of Statistics</i> 6, 1979, with Šidák's levels; errors that results share,
/// as those of aim and zero, make it more careful, not less). In: every result is inside by itself. That needs no correction: with any one
/// truth on its limit, that result alone is called in no oftener than it should be (an intersection–union test; Berger,
/// <i>Technometrics</i> 24, 1982).
/// </remarks>
/// <param name="Out">The results that are out when all are asked at once, in the sheet's order.</param>
/// <param name="Open">The results that are not in by themselves and not among those.</param>
public sealed record WholeStrip(Verdict Verdict, ImmutableArray<ParameterResult> Out, ImmutableArray<ParameterResult> Open)
{
    /// <summary>Of the results of one strip; null when none has a verdict.</summary>
    public static WholeStrip? Of(ImmutableArray<ParameterResult> results)
    {
        var judged = results.Where(r => r.Verdict is not null).ToList();
        if (judged.Count == 0)
        {
            return null;
        }

        var surely = SurelyOut(judged.Select(r => r.Verdict!));
        ImmutableArray<ParameterResult> @out = [.. results.Where(r => r.Verdict is { } v && surely.Contains(v))];
        ImmutableArray<ParameterResult> open =
            [.. results.Where(r => r.Verdict is { Verdict: not Verdict.InControl } v && !surely.Contains(v))];
        return new WholeStrip(
            @out.Length > 0 ? Verdict.OutOfControl : open.Length > 0 ? Verdict.Undecided : Verdict.InControl, @out, open);
    }

    /// <summary>Those of some verdicts that are out when all are asked at once.</summary>
    public static IReadOnlySet<VerdictResult> SurelyOut(IEnumerable<VerdictResult> verdicts)
    {
        var sorted = verdicts.OrderBy(v => v.ProbabilityInside).ToList();
        return sorted.TakeWhile((v, i) => v.ProbabilityInside <= 1 - Math.Pow(v.Level, 1.0 / (sorted.Count - i)))
            .ToHashSet<VerdictResult>(ReferenceEqualityComparer.Instance);
    }

    /// <summary>What would decide about a result that is open, in words.</summary>
    public static string WhatDecides(ParameterResult open) => open.Verdict?.WhatDecides
        ?? "out if it were asked alone, but among so many results one is easily so by chance; a second strip tells";
}

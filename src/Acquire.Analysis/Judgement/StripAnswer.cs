using Acquire.Analysis.Uncertainty;

namespace Acquire.Analysis.Judgement;

/// <summary>What one strip says about going on.</summary>
public enum StripSays
{
    /// <summary>Every result with a limit is inside, plainly and with the probability asked for.</summary>
    InControl,

    /// <summary>Past an action limit, or the uncertainty leaves it open, or there is nothing to judge by.</summary>
    LookFirst,

    /// <summary>Past a control limit.</summary>
    Stop,
}

/// <summary>What one strip says, and which of its results say so.</summary>
/// <param name="Says">The worst that any result says.</param>
/// <param name="Because">The results that say it, in the sheet's order; empty when in control, or when nothing could be judged.</param>
/// <param name="Judged">How many results could be held against a limit.</param>
public sealed record StripAnswer(StripSays Says, ImmutableArray<ParameterResult> Because, int Judged)
{
    /// <summary>The results that are out when all are asked at once: only then is a stop more than the trade's plain comparison, which
    /// asks for a second strip.</summary>
    public ImmutableArray<ParameterResult> SurelyOut { get; init; } = [];

    /// <summary>Whether a result that is past its control limit may be so by what its uncertainty makes of it, or by being one of so
    /// many.</summary>
    public bool IsUnsure(ParameterResult result) => result is { Zone: Zone.Out, Verdict: not null } && !SurelyOut.Contains(result);

    /// <summary>Asks a strip. Plain comparison and verdict both count, and the worse of them rules: past the control limit stops even where
    /// the uncertainty could explain it, as a second strip costs less than film. A result whose verdict is out counts as out only when it
    /// is so with all the others asked as well (<see cref="WholeStrip"/>).</summary>
    public static StripAnswer Of(StripJudgement judgement)
    {
        var whole = judgement.Whole;
        var judged = judgement.Results.Where(r => r.Zone is not null)
            .Select(r => (Result: r, Says: Of(r, whole is not null && whole.Out.Contains(r)))).ToList();
        if (judged.Count == 0)
        {
            return new StripAnswer(StripSays.LookFirst, [], 0);
        }

        // One result past its limit is enough: the others being in says nothing of the film that this one would spoil.
        var worst = judged.Max(j => j.Says);
        return new StripAnswer(
            worst, worst == StripSays.InControl ? [] : [.. judged.Where(j => j.Says == worst).Select(j => j.Result)], judged.Count)
        {
            SurelyOut = whole?.Out ?? [],
        };
    }

    /// <summary>What one result says; a limit that is no control limit does not stop.</summary>
    private static StripSays Of(ParameterResult result, bool surelyOut) =>
        result.Zone == Zone.Out || (surelyOut && result.Limits.Control is not null) ? StripSays.Stop
        : result.Zone == Zone.Action || result.Verdict is { Verdict: not Verdict.InControl } ? StripSays.LookFirst
        : StripSays.InControl;
}

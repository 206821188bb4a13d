using Acquire.Analysis.Control;
using Acquire.Analysis.Gauge;

namespace Acquire.Analysis.Life;

/// <summary>How long one parameter and channel stays inside its action limit.</summary>
public sealed record LifeAnswer
{
    /// <summary>The parameter and channel.</summary>
    public required SeriesKey Key { get; init; }

    /// <summary>The parameter's name with its channel.</summary>
    public required string Name { get; init; }

    /// <summary>The action limit.</summary>
    public required Limit Limit { get; init; }

    /// <summary>How many strips tell of it.</summary>
    public required int Strips { get; init; }

    /// <summary>How many bottles they came from.</summary>
    public required int Bottles { get; init; }

    /// <summary>Whether it says anything of the kind of solution; what does not has no say in how long the solution lasts.</summary>
    public bool Votes { get; init; } = true;

    /// <summary>What of it rests on an assumption, and not on what was seen of the instrument.</summary>
    public Assumed RestsOnAssumption { get; init; }

    /// <summary>The straight model, from which effects and comparisons come; null when there is none.</summary>
    public LifeModel? Model { get; init; }

    /// <summary>The way with age, whatever its shape; null when there is no model.</summary>
    public LifeCurve? Curve { get; init; }

    /// <summary>The chance that its true mean has reached the limit, by age; null when there is no model.</summary>
    public LifeRisk? Risk { get; init; }

    /// <summary>Why there is no model; null when there is one.</summary>
    public string? Refusal { get; init; }

    /// <summary>The deviation at which it leaves the limit, going the way it
    /// goes; null when that side is open or there is no model.</summary>
    public double? Leaves { get; init; }

    /// <summary>Age in days at which the mean reaches the limit, with its interval; null
    /// when the strips do not bear out that it ages, or when it gets there.</summary>
    public LifeSpan? Days { get; init; }

    /// <summary>Oldest age among the strips, days; null without a model.</summary>
    public double? OldestAge { get; init; }

    /// <summary>Whether what is named reaches beyond the oldest strip, so that it holds only if it goes on like this.</summary>
    public bool IsBeyond => Days?.Upper > OldestAge;

    /// <summary>The mean deviation at the youngest age, where it is past the limit already, so that no age
    /// can be named at which it gets there; null otherwise.</summary>
    public double? OutsideFromStart { get; init; }

    /// <summary>Age up to which the mean is inside with 95 % confidence, the oldest strip's at most; null without a model.</summary>
    public double? AtLeastDays { get; init; }

    /// <summary>Whether that is a day at least; less is no answer, but too little evidence.</summary>
    public bool HoldsAWhile => AtLeastDays >= 1;

    /// <summary>A change at once that explains the strips as well; null when none is worth a word.</summary>
    public LifeJump? Jump { get; init; }

    /// <summary>What one more strip would add; null when nothing would, or there is no model.</summary>
    public NextStrip? Next { get; init; }

    /// <summary>Change of the deviation per day, with the half-width of its 95 % interval; null without a model.</summary>
    public (double Value, double Margin)? Slope { get; init; }

    /// <summary>Effects, the largest against the limit first.</summary>
    public ImmutableArray<LifeEffect> Effects { get; init; } = [];

    /// <summary>What makes the answer less sure, in words.</summary>
    public ImmutableArray<string> Doubts { get; init; } = [];

    /// <summary>From aim to limit, on the side where it leaves, or else on the nearer side.</summary>
    public double LimitWidth => Leaves is { } side and not 0 ? Math.Abs(side)
        : new[] { Limit.Upper, -Limit.Lower }.Where(w => w > 0).Min() ?? 0;

    /// <summary>How film goes through bottles kept so.</summary>
    public LifeUse Use { get; init; }

    /// <summary>How much film has gone through by then at the usual rate, m² per litre, with its interval; null
    /// when no life can be named or the area is not known.</summary>
    public (double Estimate, double Lower, double Upper)? Area => AreaAt(Days);

    /// <summary>Whether a life can be named: the strips bear out that it goes towards the limit, and when it gets there.</summary>
    public bool IsTold => Days is not null;

    /// <summary>How much film has gone through at a span of ages.</summary>
    public (double Estimate, double Lower, double Upper)? AreaAt(LifeSpan? days) => days is not null && Use.IsKnown
        ? (Use.At(days.Estimate), Math.Max(0, Use.At(Math.Max(0, days.Lower))), Use.At(days.Upper))
        : null;
}

/// <summary>How long the solution as a whole stays inside its action limits, by all parameters that say anything of it.</summary>
/// <param name="By">The parameter that gets to its limit first.</param>
/// <param name="Days">Until the first of all gets there: the lower end allows for each of them, the upper end for the surest one alone;
/// null when no life can be named.</param>
/// <param name="AtLeastDays">Age up to which all of them are inside with 95 % confidence, the oldest strip's at most.</param>
/// <param name="OldestAge">Oldest age among the strips, days: no strip has seen what lies beyond.</param>
public sealed record LifeWhole(LifeAnswer? By, LifeSpan? Days, double AtLeastDays, double OldestAge)
{
    /// <summary>Whether a day that is named lies beyond the oldest strip, so that it holds only if it goes on like this.</summary>
    public bool IsBeyond => Days?.Upper > OldestAge;

    /// <summary>Whether it holds a day at least; less is no answer, but too little evidence.</summary>
    public bool HoldsAWhile => AtLeastDays >= 1;

    /// <summary>Takes the answers of all parameters together.</summary>
    /// <returns>The whole; null when no parameter that has a say has a model.</returns>
    public static LifeWhole? Of(IReadOnlyList<LifeAnswer> answers)
    {
        var voting = answers.Where(a => a is { Votes: true, Risk: not null }).ToList();
        if (voting.Count == 0)
        {
            return null;
        }

        var oldest = voting.Max(a => a.OldestAge!.Value);
        var told = voting.Where(a => a.IsTold).ToList();
        // Beyond the strips only what they bear out goes on; of the rest nothing is known there, and nothing said.
        // The colours of one parameter go together, so the surest of them stands for all.
        var any = LifeRisk.AnyOf([.. voting.GroupBy(a => a.Key.ParameterKey)
            .Select(g => LifeRisk.SurestOf([.. g.Select(a => a.IsTold ? a.Risk! : a.Risk!.Until(oldest))]))]);
        var surest = told.Count > 0 ? LifeRisk.SurestOf([.. told.Select(a => a.Risk!)]).Span() : null;
        return new LifeWhole(
            told.MinBy(a => a.Days!.Estimate),
            surest is null ? null : surest with { Lower = Math.Min(any.Reaches(LifeSpan.Tail) ?? surest.Lower, surest.Estimate) },
            Math.Min(any.Until(oldest).Reaches(0.05) ?? oldest, oldest),
            oldest);
    }
}

/// <summary>What one more strip would add.</summary>
/// <param name="AtAgeDays">Age at which it would tell most.</param>
/// <param name="WidthShare">Width of the interval with it, as a share of the width now; null while there is no interval now.</param>
/// <param name="StripsToTell">How many strips at that age would give an interval
/// at all; null when there is one already, or none would.</param>
public sealed record NextStrip(double AtAgeDays, double? WidthShare, int? StripsToTell);

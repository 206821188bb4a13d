using Acquire.Analysis.Control;
using Acquire.Analysis.Statistics;

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

    /// <summary>The model; null when there is none.</summary>
    public LifeModel? Model { get; init; }

    /// <summary>Why there is no model; null when there is one.</summary>
    public string? Refusal { get; init; }

    /// <summary>The deviation at which it leaves the limit, going the way it
    /// goes; null when that side is open or there is no model.</summary>
    public double? Leaves { get; init; }

    /// <summary>Age in days at which the mean reaches it, with its interval; null
    /// when it does not go there, or nothing can be told.</summary>
    public RatioInterval? Days { get; init; }

    /// <summary>The mean deviation at the youngest age, where it is past the limit already, so that no age
    /// can be named at which it gets there; null otherwise.</summary>
    public double? OutsideFromStart { get; init; }

    /// <summary>Age up to which the mean is inside with 95 % confidence; null without a model.</summary>
    public double? AtLeastDays { get; init; }

    /// <summary>Whether that is a day at least; less is no answer, but too little evidence.</summary>
    public bool HoldsAWhile => AtLeastDays >= 1;

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
    public (double Estimate, double Lower, double Upper)? Area =>
        IsTold && Use.IsKnown ? (Use.At(Days!.Estimate), Math.Max(0, Use.At(Math.Max(0, Days.Lower))), Use.At(Days.Upper)) : null;

    /// <summary>Whether a life can be named: the strips bear out that it goes towards the limit, and when it gets there.</summary>
    public bool IsTold => Days is { Kind: RatioKind.Bounded, Estimate: > 0 };
}

/// <summary>What one more strip would add.</summary>
/// <param name="AtAgeDays">Age at which it would tell most.</param>
/// <param name="WidthShare">Width of the interval with it, as a share of the width now; null while there is no interval now.</param>
/// <param name="StripsToTell">How many strips at that age would give an interval
/// at all; null when there is one already, or none would.</param>
public sealed record NextStrip(double AtAgeDays, double? WidthShare, int? StripsToTell);

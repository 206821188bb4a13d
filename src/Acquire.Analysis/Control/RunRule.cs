namespace Acquire.Analysis.Control;

/// <summary>Patterns of successive points that chance seldom makes. Sigma and centre are those of the process.</summary>
public enum RunRule
{
    /// <summary>One point beyond 3 sigma.</summary>
    BeyondThreeSigma,

    /// <summary>Two of three beyond 2 sigma on one side.</summary>
    TwoOfThreeBeyondTwo,

    /// <summary>Four of five beyond 1 sigma on one side.</summary>
    FourOfFiveBeyondOne,

    /// <summary>Eight in a row on one side of the centre.</summary>
    EightOnOneSide,

    /// <summary>Nine in a row on one side of the centre.</summary>
    NineOnOneSide,

    /// <summary>Six points rising or falling steadily.</summary>
    SixSteady,

    /// <summary>Fourteen points up and down by turns.</summary>
    FourteenAlternating,

    /// <summary>Fifteen in a row within 1 sigma.</summary>
    FifteenWithinOne,

    /// <summary>Eight in a row outside 1 sigma, on either side.</summary>
    EightOutsideOne,
}

/// <summary>Sets of rules that are used together.</summary>
public static class RunRuleSets
{
    /// <summary>The four rules of the <i>Statistical Quality Control Handbook</i> (Western Electric, 1956).</summary>
    public static ImmutableArray<RunRule> WesternElectric { get; } =
        [RunRule.BeyondThreeSigma, RunRule.TwoOfThreeBeyondTwo, RunRule.FourOfFiveBeyondOne, RunRule.EightOnOneSide];

    /// <summary>The eight rules of L. S. Nelson (<i>Journal of Quality Technology</i> 16, 1984), in his order.</summary>
    public static ImmutableArray<RunRule> Nelson { get; } =
    [
        RunRule.BeyondThreeSigma, RunRule.NineOnOneSide, RunRule.SixSteady, RunRule.FourteenAlternating,
        RunRule.TwoOfThreeBeyondTwo, RunRule.FourOfFiveBeyondOne, RunRule.FifteenWithinOne, RunRule.EightOutsideOne,
    ];

    /// <summary>How many points in a row the rule looks at.</summary>
    public static int Span(this RunRule rule) => rule switch
    {
        RunRule.BeyondThreeSigma => 1,
        RunRule.TwoOfThreeBeyondTwo => 3,
        RunRule.FourOfFiveBeyondOne => 5,
        RunRule.EightOnOneSide or RunRule.EightOutsideOne => 8,
        RunRule.NineOnOneSide => 9,
        RunRule.SixSteady => 6,
        RunRule.FourteenAlternating => 14,
        RunRule.FifteenWithinOne => 15,
        _ => throw new ArgumentOutOfRangeException(nameof(rule), rule, null),
    };
}

/// <summary>A run rule broken at a point.</summary>
/// <param name="Rule">The rule.</param>
/// <param name="Index">Index of the last point of the pattern, from 0.</param>
/// <param name="Side">Where the pattern lies or goes.</param>
public readonly record struct RunSignal(RunRule Rule, int Index, Side Side)
{
    /// <summary>Index of the first point of the pattern.</summary>
    public int First => Index - Rule.Span() + 1;

    /// <summary>Finds every point at which a rule is broken.</summary>
    /// <param name="standardized">Distances from the centre in sigmas, in order.</param>
    /// <param name="set">The rules.</param>
    public static ImmutableArray<RunSignal> Find(IEnumerable<double> standardized, ImmutableArray<RunRule> set)
    {
        ArgumentNullException.ThrowIfNull(standardized);
        var signals = ImmutableArray.CreateBuilder<RunSignal>();
        var state = default(RunRuleState);
        foreach (var (index, z) in standardized.Index())
        {
            state = state.Next(z);
            foreach (var rule in state.Broken(set))
            {
                signals.Add(new RunSignal(rule, index, state.SideOf(rule)));
            }
        }

        return signals.ToImmutable();
    }
}

/// <summary>On which side of its centre something lies, or which way it goes.</summary>
public enum Side
{
    /// <summary>Below, or falling.</summary>
    Low = -1,

    /// <summary>Neither or both.</summary>
    Neither = 0,

    /// <summary>Above, or rising.</summary>
    High = 1,
}

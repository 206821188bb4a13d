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

    /// <summary>The rule in words.</summary>
    public static string Word(this RunRule rule) => rule switch
    {
        RunRule.BeyondThreeSigma => "one beyond 3 sigma",
        RunRule.TwoOfThreeBeyondTwo => "two of three beyond 2 sigma",
        RunRule.FourOfFiveBeyondOne => "four of five beyond 1 sigma",
        RunRule.EightOnOneSide => "eight in a row on one side",
        RunRule.NineOnOneSide => "nine in a row on one side",
        RunRule.SixSteady => "six steadily rising or falling",
        RunRule.FourteenAlternating => "fourteen up and down by turns",
        RunRule.FifteenWithinOne => "fifteen in a row within 1 sigma",
        RunRule.EightOutsideOne => "eight in a row outside 1 sigma",
        _ => throw new ArgumentOutOfRangeException(nameof(rule), rule, null),
    };

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
/// <param name="Index">Index of the last point of the pattern, from 0.</param>
/// <param name="Side">Where the pattern lies or goes.</param>
public readonly record struct RunSignal(RunRule Rule, int Index, Side Side)
{
    /// <summary>Index of the first point of the pattern; two of three may be broken by the second point already.</summary>
    public int First => Math.Max(0, Index - Rule.Span() + 1);

    /// <summary>Finds every point at which a rule is broken.</summary>
    /// <param name="standardized">Distances from the centre in sigmas, in order.</param>
    /// <param name="set">The rules.</param>
    public static ImmutableArray<RunSignal> Find(IEnumerable<double> standardized, ImmutableArray<RunRule> set)
    {
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

/// <summary>What the run rules remember of the points so far, so that one more point costs the same however long the history
/// is. The last point of a pattern is the one that is flagged; lines are passed by strictly more; of "two of three" and
/// "four of five" the last must itself be beyond the line.</summary>
public readonly record struct RunRuleState
{
    private double? Last { get; init; }

    // Bits of the latest points, newest lowest: beyond 2 sigma high, low; beyond 1 sigma high, low.
    private byte HighTwo { get; init; }

    private byte LowTwo { get; init; }

    private byte HighOne { get; init; }

    private byte LowOne { get; init; }

    private (Side Side, int Length) OneSide { get; init; }

    private (Side Side, int Length) Steady { get; init; }

    private (Side Side, int Length) Turns { get; init; }

    private int Within { get; init; }

    private int Outside { get; init; }

    /// <summary>Takes one more point.</summary>
    /// <param name="z">Its distance from the centre, in sigmas.</param>
    public RunRuleState Next(double z)
    {
        var side = (Side)Math.Sign(z);
        // Compared and not subtracted: two infinite distances have no difference.
        var move = Last is { } last ? (Side)Math.Sign(z.CompareTo(last)) : Side.Neither;
        return new RunRuleState
        {
            Last = z,
            HighTwo = Shift(HighTwo, z > 2),
            LowTwo = Shift(LowTwo, z < -2),
            HighOne = Shift(HighOne, z > 1),
            LowOne = Shift(LowOne, z < -1),
            OneSide = side == Side.Neither ? default : (side, side == OneSide.Side ? OneSide.Length + 1 : 1),

            // Lengths in points: the first move joins two of them.
            Steady = move == Side.Neither ? default : (move, move == Steady.Side ? Steady.Length + 1 : 2),
            Turns = move == Side.Neither ? default : (move, Turns.Side != Side.Neither && move != Turns.Side ? Turns.Length + 1 : 2),
            Within = Math.Abs(z) < 1 ? Within + 1 : 0,
            Outside = Math.Abs(z) > 1 ? Outside + 1 : 0,
        };
    }

    /// <summary>Whether a rule is broken at the newest point.</summary>
    public bool Breaks(RunRule rule) => rule switch
    {
        RunRule.BeyondThreeSigma => Last is > 3 or < -3,
        RunRule.TwoOfThreeBeyondTwo => Of(HighTwo, 3, 2) || Of(LowTwo, 3, 2),
        RunRule.FourOfFiveBeyondOne => Of(HighOne, 5, 4) || Of(LowOne, 5, 4),
        RunRule.EightOnOneSide => OneSide.Length >= 8,
        RunRule.NineOnOneSide => OneSide.Length >= 9,
        RunRule.SixSteady => Steady.Length >= 6,
        RunRule.FourteenAlternating => Turns.Length >= 14,
        RunRule.FifteenWithinOne => Within >= 15,
        RunRule.EightOutsideOne => Outside >= 8,
        _ => throw new ArgumentOutOfRangeException(nameof(rule), rule, null),
    };

    /// <summary>The side a broken rule points to.</summary>
    public Side SideOf(RunRule rule) => rule switch
    {
        RunRule.SixSteady => Steady.Side,
        RunRule.FourteenAlternating or RunRule.FifteenWithinOne or RunRule.EightOutsideOne => Side.Neither,
        _ => (Side)Math.Sign(Last ?? 0),
    };

    /// <summary>The rules of a set that are broken at the newest point.</summary>
    public IEnumerable<RunRule> Broken(ImmutableArray<RunRule> set)
    {
        var state = this;
        return set.Where(rule => state.Breaks(rule));
    }

    private static byte Shift(byte bits, bool hit) => (byte)((bits << 1) | (hit ? 1 : 0));

    private static bool Of(byte bits, int span, int needed) =>
        (bits & 1) == 1 && System.Numerics.BitOperations.PopCount((uint)(bits & ((1 << span) - 1))) >= needed;
}

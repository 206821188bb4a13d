namespace Acquire.Analysis.Control;

/// <summary>
/// What the run rules remember of the points so far, so that one more point costs the same however long the history is. The last point
/// of a pattern is the one that is flagged; lines are passed by strictly more; of "two of three" and "four of five" the last must itself be
/// beyond the line.
/// </summary>
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
        var move = Last is { } last ? (Side)Math.Sign(z - last) : Side.Neither;
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

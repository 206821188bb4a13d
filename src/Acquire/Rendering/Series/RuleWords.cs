using Acquire.Analysis.Control;

namespace Acquire.Rendering.Series;

/// <summary>The run rules in words.</summary>
internal static class RuleWords
{
    public static string Of(RunRule rule) => rule switch
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
}

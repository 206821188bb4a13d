using Acquire.Analysis.StripWork;
using Acquire.Analysis.Tests.Judgement;

namespace Acquire.Analysis.Tests.StripWork;

/// <summary>
/// "Past a limit: confirm with a second strip at once; two consecutive strips seldom give similar false information."
/// </summary>
[Trait("Source", "US Navy Photography (Advanced); US Army SS0514")]
public sealed class SecondStripTests
{
    [Fact]
    public void Second_strip_that_is_in_makes_the_first_a_fluke()
    {
        var pair = SecondStrip.Of(Strip(("ld", 0.07m, 0, 0)), Strip(("ld", 0.01m, 0, 0)));

        Assert.Equal(SecondStripVerdict.Fluke, pair.Verdict);
        Assert.Equal("LD red", Assert.Single(pair.Cleared, c => c.First.Parameter.Key == "ld").First.Label);
        Assert.Contains("the first was a fluke", pair.Words(), StringComparison.Ordinal);
        Assert.Contains("LD red +0.070, then +0.010", pair.Words(), StringComparison.Ordinal);
        Assert.Contains("Carry on, and note it", pair.Words(), StringComparison.Ordinal);
    }

    [Fact]
    public void Second_strip_past_the_same_limit_confirms_and_asks_for_the_cause()
    {
        var pair = SecondStrip.Of(
            Strip(("ld", -0.07m, -0.07m, -0.07m), ("yellow", 0, 0, -0.11m)), Strip(("ld", -0.065m, -0.03m, -0.07m)));

        Assert.Equal(SecondStripVerdict.Confirmed, pair.Verdict);
        Assert.Equal(["LD red", "LD blue"], pair.Confirmed.Select(c => c.First.Label));
        Assert.Contains("LD green", string.Join(' ', pair.Cleared.Select(c => c.First.Label)), StringComparison.Ordinal);
        Assert.Contains("It is real. Find the cause", pair.Words(), StringComparison.Ordinal);
        Assert.Contains("Not confirmed: LD green", pair.Words(), StringComparison.Ordinal);
    }

    [Fact]
    public void Second_strip_past_the_other_side_confirms_nothing()
    {
        var pair = SecondStrip.Of(Strip(("ld", 0.07m, 0, 0)), Strip(("ld", -0.07m, 0, 0)));

        Assert.Equal(SecondStripVerdict.Unclear, pair.Verdict);
        Assert.Contains("third strip", pair.Words(), StringComparison.Ordinal);
    }

    [Fact]
    public void Second_strip_with_another_fault_is_unclear()
    {
        var pair = SecondStrip.Of(Strip(("ld", 0.07m, 0, 0)), Strip(("dmin", 0, 0, 0.06m)));

        Assert.Equal(SecondStripVerdict.Unclear, pair.Verdict);
        Assert.Contains("D-min blue", pair.Words(), StringComparison.Ordinal);
    }

    /// <summary>
    /// Three reads that scatter by s = 0.01 each, 4 degrees of freedom beside the 3 of the assumption: t(7) u = 2.36 · 0.0101 √(2/3) =
    /// 0.0195 and a little, more than the 0.01 between the strips and less than 0.03.
    /// </summary>
    [Fact]
    public void Second_strip_that_is_in_by_less_than_reading_explains_is_at_the_limit()
    {
        Assert.Equal(SecondStripVerdict.AtTheLimit, SecondStrip.Of(Scattered(0.53m), Scattered(0.52m)).Verdict);
        Assert.Equal(SecondStripVerdict.Fluke, SecondStrip.Of(Scattered(0.53m), Scattered(0.50m)).Verdict);
    }

    [Fact]
    public void Two_strips_inside_leave_nothing_to_confirm() =>
        Assert.Equal(SecondStripVerdict.NothingToConfirm, SecondStrip.Of(Strip(), Strip(("ld", 0.01m, 0, 0))).Verdict);

    [Fact]
    public void Second_strip_without_the_patch_cannot_confirm()
    {
        var blind = Strip();
        var without = Some.Strip([.. blind.Patches.Select(p => p.Patch.Key == "ld" ? p with { Reads = [] } : p)]);
        var pair = SecondStrip.Of(Strip(("ld", 0.07m, 0, 0)), without);

        Assert.Equal(SecondStripVerdict.Unclear, pair.Verdict);
        Assert.Contains("cannot confirm", pair.Words(), StringComparison.Ordinal);
    }

    /// <summary>The aim's uncertainty is in both deviations and in none of the change.</summary>
    [Fact]
    public void Change_does_not_hold_the_uncertainty_of_the_aim()
    {
        var aims = Strip().Aims.Select(a => new Domain.Lots.Aim(a.PatchKey, a.Channel, a.Reference, 0, 0.05));
        StripRecord Judged(StripRecord s) => Some.Strip(s.Patches, [.. aims]);
        var change = ParameterChange.Between(Judged(Strip()), Judged(Strip(("ld", 0.02m, 0, 0))))
            .Single(c => c.First.Parameter.Key == "ld" && c.First.Channel == Channel.Red);

        Assert.Equal(0.02, change.Change!.Value, 1e-12);

        // One read each at one sitting, of an instrument of which nothing is known: 0.010² (1 + 0.45² D²) twice.
        Assert.Equal(
            0.010 * Math.Sqrt(2 + (0.2025 * ((0.46 * 0.46) + (0.48 * 0.48)))), change.StandardUncertainty!.Value, 1e-9);
        Assert.True(change.First.StandardUncertainty > 0.05);
    }

    private static StripRecord Strip(params (string, decimal, decimal, decimal)[] moves) => Some.Strip(Some.Patches(Some.Moved(moves)));

    private static StripRecord Scattered(decimal ldRed) => Some.Strip([.. Strip().Patches.Select(p =>
        p.Patch.Key == "ld" ? Some.Reads("ld", new[] { -0.01m, 0, 0.01m }.Select(d => Some.Reading(ldRed + d, 0.84m, 1.04m))) : p)]);
}

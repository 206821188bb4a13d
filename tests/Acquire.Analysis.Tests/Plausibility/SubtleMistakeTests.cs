using Acquire.Analysis.Plausibility;

namespace Acquire.Analysis.Tests.Plausibility;

public class SubtleMistakeTests
{
    [Theory]
    [InlineData(-0.05)]
    [InlineData(0.06)]
    public void Same_offset_everywhere_is_the_zero(double offset) => Assert.Equal(
        SuspicionKind.DirtyZero, Strip.Knowledge.FirstQuestion(Strip.Read(Strip.Moved((_, _) => offset)))?.Kind);

    [Theory]
    [InlineData(-0.04)]
    [InlineData(0.04)]
    public void Deviations_in_step_with_density_are_the_slope(double share) => Assert.Equal(
        SuspicionKind.SlopeError, Strip.Knowledge.FirstQuestion(Strip.Read(Strip.Moved((s, c) => share * Strip.OnAim[s][c])))?.Kind);

    [Fact]
    public void Slopes_that_differ_by_colour_are_the_status() => Assert.Equal(
        SuspicionKind.WrongStatus,
        Strip.Knowledge.FirstQuestion(Strip.Read(Strip.Moved((s, c) => new[] { 0.06, -0.04, 0.07 }[c] * Strip.OnAim[s][c])))?.Kind);

    [Fact]
    public void Strip_that_fits_another_lot_is_of_that_lot()
    {
        var other = Strip.Moved((s, c) => (((s * 3) + (c * 5)) % 7 * 0.02) - 0.06);
        var knowledge = Strip.Knowledge with { OtherLots = [
            new OtherLot("1188", Strip.Aims(Strip.Moved((s, c) => 0.03 * (s - c)))), new OtherLot("1207", Strip.Aims(other))] };
        var question = knowledge.FirstQuestion(Strip.Read(other))!;

        Assert.Equal(SuspicionKind.WrongLot, question.Kind);
        Assert.Equal(new Remedy.ChooseLot("1207"), question.Remedy);
    }

    [Fact]
    public void Repeats_that_drift_on_all_patches_are_of_a_wet_strip()
    {
        var question = Strip.Knowledge.FirstQuestion(
            Strip.Read(Strip.OnAim, decimals: 3, scatter: 0.003, off: r => 0.08 * Math.Exp(-r.Seconds / 40)))!;

        Assert.Equal(SuspicionKind.NotDry, question.Kind);
        Assert.IsType<Remedy.WaitAndDry>(question.Remedy);
    }
}

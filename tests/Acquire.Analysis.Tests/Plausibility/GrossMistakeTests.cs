using Acquire.Analysis.Plausibility;
using Acquire.Analysis.Tests.Judgement;

namespace Acquire.Analysis.Tests.Plausibility;

public class GrossMistakeTests
{
    [Fact]
    public void Two_reads_far_apart_are_asked_about_at_the_second()
    {
        var patches = Strip.Read(Strip.OnAim, off: r => r is (2, 1, _) ? 0.12 : 0);
        var check = new PlausibilityCheck(Strip.Knowledge);

        Assert.Null(check.QuestionAfterRead(patches.Until(7)));
        var question = check.QuestionAfterRead(patches.Until(8))!;

        Assert.Equal(SuspicionKind.SpreadOfRepeats, question.Kind);
        Assert.Contains("HD", question.Question, StringComparison.Ordinal);
        Assert.Equal(["hd"], Assert.IsType<Remedy.ReadPatchAgain>(question.Remedy).PatchKeys);
    }

    [Fact]
    public void One_read_apart_from_two_that_agree_is_named()
    {
        var question = Strip.Knowledge.FirstQuestion(Strip.Read(Strip.OnAim, off: r => r is (1, 2, _) ? -0.12 : 0))!;

        Assert.Equal(SuspicionKind.Outlier, question.Kind);
        Assert.Equal(new ReadPlace("ld", 2), Assert.IsType<Remedy.LeaveOutRead>(question.Remedy).Read);
    }

    [Theory]
    [InlineData(0.4, true)]
    [InlineData(1.0, false)]
    public void Same_values_at_once_are_a_double_trigger_and_later_they_are_not(double seconds, bool asked)
    {
        PatchReads[] patches = [new(Some.C41.Layout.Patches[0], [Strip.Of(Strip.OnAim[0], 5), Strip.Of(Strip.OnAim[0], 5 + seconds)])];
        var question = Strip.Knowledge.FirstQuestion([.. patches]);

        Assert.Equal(asked ? SuspicionKind.DoubleTrigger : null, question?.Kind);
        Assert.Equal(asked ? new Remedy.LeaveOutRead(new ReadPlace("dmin", 1), "triggered twice") : null, question?.Remedy);
    }

    [Fact]
    public void Double_trigger_that_runs_over_into_the_next_patch_is_not_taken_for_the_previous_patch_again()
    {
        var patches = Strip.Read(Strip.OnAim).Until(3);
        var echo = Strip.Of(
            patches[0].Reads[^1].Reading.Densities.Present.Take(3).Select(c => patches[0].Reads[^1].Reading.Densities[c]!.Value.ToDouble()),
            19.5);

        Assert.Equal(SuspicionKind.DoubleTrigger, Strip.Knowledge.AfterRead(patches.SetItem(1, patches[1] with { Reads = [echo] }))?.Kind);
    }

    [Fact]
    public void Reads_without_moving_and_typed_reads_are_never_double_triggers()
    {
        var still = Strip.Knowledge with { ReadsPerPlacement = 2 };
        PatchRead Typed() => new(Reading.Entered(ChannelDensities.Rgb(0.26m, 0.62m, 0.80m), Some.Time));

        Assert.Null(still.FirstQuestion([new(Some.C41.Layout.Patches[0], [Strip.Of(Strip.OnAim[0], 5), Strip.Of(Strip.OnAim[0], 5.1)])]));
        Assert.Null(Strip.Knowledge.FirstQuestion([new(Some.C41.Layout.Patches[0], [Typed(), Typed()])]));
    }

    [Theory]
    [InlineData(0)]
    [InlineData(2)]
    [InlineData(4)]
    public void Differences_from_one_patch_are_the_relative_mode_and_asked_at_the_first_read(int zero)
    {
        var patches = Strip.Read(Strip.Moved((_, c) => -Strip.OnAim[zero][c]));
        var question = Strip.Knowledge.AfterRead(patches.Until(1))!;

        Assert.Equal(SuspicionKind.RelativeMode, question.Kind);
        Assert.IsType<Remedy.SwitchInstrument>(question.Remedy);
    }

    [Fact]
    public void Previous_patch_again_is_asked_at_its_first_read()
    {
        var question = Strip.Knowledge.AfterRead(
            Strip.Read([Strip.OnAim[0], Strip.OnAim[1], Strip.OnAim[1], Strip.OnAim[3], Strip.OnAim[4]]).Until(7))!;

        Assert.Equal(SuspicionKind.PreviousPatchAgain, question.Kind);
        Assert.Equal("HD reads like the previous patch, LD, once more. Read HD again?", question.Question);
    }

    [Fact]
    public void Next_patch_is_off_by_one_step() =>
        Assert.Equal(
            SuspicionKind.OffByOneStep,
            Strip.Knowledge.AfterRead(
                Strip.Read([Strip.OnAim[0], Strip.OnAim[2], Strip.OnAim[2], Strip.OnAim[3], Strip.OnAim[4]]).Until(4))?.Kind);

    [Theory]
    [Trait("Source", "Common practice, no source: a strip's neutral steps are some 0.2 of HD − LD apart")]
    [InlineData(1, 0.2)]
    [InlineData(2, -0.2)]
    public void Step_of_the_wedge_beside_a_patch_is_off_by_one_step(int slot, double share)
    {
        var question = Strip.Knowledge.FirstQuestion(
            Strip.Read(Strip.Moved((s, c) => s == slot ? share * (Strip.OnAim[2][c] - Strip.OnAim[1][c]) : 0)))!;

        Assert.Equal(SuspicionKind.OffByOneStep, question.Kind);
        Assert.Equal([Some.C41.Layout.Patches[slot].Key], question.Patches);
    }

    [Fact]
    public void Wrong_end_is_asked_at_the_first_read_and_put_in_order_at_the_end()
    {
        var patches = Strip.Read([.. Strip.OnAim.Reverse()]);

        Assert.Equal(SuspicionKind.WrongEnd, Strip.Knowledge.AfterRead(patches.Until(1))?.Kind);
        var atEnd = Strip.Knowledge.AtEnd(patches)!;
        Assert.Equal(SuspicionKind.WrongEnd, atEnd.Kind);
        Assert.Null(Strip.Knowledge.AtEnd(Remedies.Apply(atEnd.Remedy, patches, Some.Time)));
    }

    [Fact]
    public void Two_patches_exchanged_are_put_in_order_at_the_end()
    {
        var patches = Strip.Read([Strip.OnAim[0], Strip.OnAim[2], Strip.OnAim[1], Strip.OnAim[3], Strip.OnAim[4]]);
        var question = Strip.Knowledge.AtEnd(patches)!;

        Assert.Equal(SuspicionKind.NeutralOrder, question.Kind);
        Assert.Equal("These look like LD and HD exchanged: reorder?", question.Question);
        Assert.Null(Strip.Knowledge.AtEnd(Remedies.Apply(question.Remedy, patches, Some.Time)));
    }

    [Theory]
    [InlineData(0, 2, 1)]
    [InlineData(1, 0, 2)]
    [InlineData(2, 1, 0)]
    [InlineData(1, 2, 0)]
    [InlineData(2, 0, 1)]
    public void Swapped_channels_are_named_and_exchanged_back(int red, int green, int blue)
    {
        var patches = Strip.Read([.. Strip.OnAim.Select(p => new[] { p[red], p[green], p[blue] })]);

        Assert.Equal(SuspicionKind.SwappedChannels, Strip.Knowledge.FirstQuestion(patches)?.Kind);
        var atEnd = Strip.Knowledge.AtEnd(patches)!;
        Assert.Null(Strip.Knowledge.AtEnd(Remedies.Apply(atEnd.Remedy, patches, Some.Time)));
    }

    [Fact]
    public void Visual_taken_for_red_is_named() =>
        Assert.Equal(
            SuspicionKind.VisualForRed,
            Strip.Knowledge.FirstQuestion(
                Strip.Read([.. Strip.OnAim.Select(p => new[] { (0.28 * p[0]) + (0.63 * p[1]) + (0.09 * p[2]), p[1], p[2] })]))?.Kind);

    [Fact]
    [Trait("Source", "B > G > R in the neutrals of a masked negative: common practice, no source")]
    public void Film_without_a_mask_breaks_the_order_of_colours() =>
        Assert.Equal(
            SuspicionKind.ColourOrder,
            Strip.Knowledge.FirstQuestion(Strip.Read([.. Strip.OnAim.Select(p => new[] { p[0] - 0.15, p[0] - 0.16, p[0] - 0.15 })]))?.Kind);

    [Fact]
    public void Answered_question_is_not_asked_again()
    {
        var patches = Strip.Read([.. Strip.OnAim.Reverse()]).Until(1);
        var check = new PlausibilityCheck(Strip.Knowledge);
        var first = check.QuestionAfterRead(patches)!;

        Assert.NotEqual(first.Key, check.QuestionAfterRead(patches, new HashSet<string> { first.Key })?.Key);
    }

    /// <summary><c>tools/PlausibilityBenchmark</c> counts false questions over many more.</summary>
    [Fact]
    public void Film_that_is_on_aim_is_never_questioned()
    {
        for (var seed = 0; seed < 4; seed++)
        {
            Assert.Null(Strip.Knowledge.FirstQuestion(Strip.Read(Strip.OnAim, seed, decimals: 2 + (seed % 2))));
        }
    }
}

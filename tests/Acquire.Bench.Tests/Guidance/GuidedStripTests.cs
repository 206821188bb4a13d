using Acquire.Analysis.Plausibility;
using Acquire.Bench.Guidance;
using CsCheck;

namespace Acquire.Bench.Tests.Guidance;

public class GuidedStripTests
{
    private readonly GuidedStrip _begun = GuidedStrip.Begin(Some.Plan(reads: 2));

    [Fact]
    public void Accept_advances_through_reads_then_patches()
    {
        var seen = new List<string>();
        for (var strip = _begun; strip.Next is { } next; strip = strip.Accept(Some.Reading()))
        {
            seen.Add($"{next.Patch.Key} {next.Read}/{next.Of} {next.Position}/{next.Patches}");
        }

        Assert.Equal(["dmin 1/2 1/2", "dmin 2/2 1/2", "ld 1/2 2/2", "ld 2/2 2/2"], seen);
    }

    [Fact]
    public void Accept_when_complete_is_refused() =>
        Assert.Throws<InvalidOperationException>(() => Complete().Accept(Some.Reading()));

    [Fact]
    public void Undo_across_a_patch_returns_to_the_patch_before()
    {
        var strip = _begun.Accept(Some.Reading()).Accept(Some.Reading()).Undo(Some.Moment);
        Assert.Equal(("dmin", 2), (strip.Next!.Patch.Key, strip.Next.Read));
    }

    [Fact]
    public void Undo_keeps_the_read_with_its_reason()
    {
        var reads = _begun.Accept(Some.Reading()).Undo(Some.Moment).Patches[0].Reads;
        Assert.Equal(GuidedStrip.TakenBack, Assert.Single(reads).Exclusion!.Reason);
    }

    [Fact]
    public void Undo_at_the_beginning_changes_nothing()
    {
        Assert.False(_begun.CanUndo);
        Assert.Same(_begun, _begun.Undo(Some.Moment));
    }

    [Fact]
    public void Undo_of_a_left_out_patch_brings_it_back()
    {
        var strip = _begun.LeaveOutPatch("scratched", Some.Moment).Undo(Some.Moment);
        Assert.Equal("dmin", strip.Next!.Patch.Key);
        Assert.Null(strip.Patches[0].LeftOut);
    }

    [Fact]
    public void LeaveOutLastRead_asks_for_one_read_more()
    {
        var strip = _begun.Accept(Some.Reading(0.25m)).Accept(Some.Reading(0.39m)).LeaveOutLastRead("dust", Some.Moment);
        Assert.Equal(("dmin", 2), (strip.Next!.Patch.Key, strip.Next.Read));
        Assert.Equal("dust", strip.Patches[0].Reads[1].Exclusion!.Reason);
    }

    [Fact]
    public void LeaveOutLastRead_without_reason_is_refused() =>
        Assert.Throws<ImpossibleValueException>(() => _begun.Accept(Some.Reading()).LeaveOutLastRead("  ", Some.Moment));

    [Fact]
    public void LeaveOutPatch_goes_on_with_the_next_and_counts_none_of_its_reads()
    {
        var strip = _begun.Accept(Some.Reading()).LeaveOutPatch("drying mark", Some.Moment);
        Assert.Equal("ld", strip.Next!.Patch.Key);
        Assert.Empty(strip.Patches[0].Accepted);
        Assert.Single(strip.Patches[0].Reads);
    }

    [Fact]
    public void ReadPatchAgain_at_the_start_of_a_patch_reads_the_one_before()
    {
        var strip = _begun.Accept(Some.Reading()).Accept(Some.Reading()).ReadPatchAgain(Some.Moment);
        Assert.Equal(("dmin", 1), (strip.Next!.Patch.Key, strip.Next.Read));
        Assert.All(strip.Patches[0].Reads, r => Assert.Equal(GuidedStrip.ReadAgain, r.Exclusion!.Reason));
    }

    [Fact]
    public void Undo_after_ReadPatchAgain_does_not_touch_the_reads_already_excluded()
    {
        var strip = _begun.Accept(Some.Reading()).Accept(Some.Reading()).ReadPatchAgain(Some.Moment).Undo(Some.Moment);
        Assert.All(strip.Patches[0].Reads, r => Assert.Equal(GuidedStrip.ReadAgain, r.Exclusion!.Reason));
    }

    [Fact]
    public void Any_order_of_steps_loses_no_read_and_can_be_finished() =>
        Gen.Int[0, 7].Array[0, 60].Sample(steps =>
        {
            var strip = _begun;
            var given = 0;
            foreach (var step in steps)
            {
                var complete = strip.IsComplete;
                given += step == 0 && !complete ? 1 : 0;
                strip = step switch
                {
                    0 when !complete => strip.Accept(Some.Reading()),
                    1 => strip.Undo(Some.Moment),
                    2 => strip.ReadPatchAgain(Some.Moment),
                    3 => strip.LeaveOutLastRead("dust", Some.Moment),
                    4 when !complete => strip.LeaveOutPatch("torn", Some.Moment),
                    5 => strip.Apply(new Remedy.ReorderPatches([1, 0]), Some.Moment),
                    6 => strip.Apply(new Remedy.ReadPatchAgain(["ld"], "another patch"), Some.Moment),
                    7 => strip.Apply(new Remedy.CheckZero(), Some.Moment),
                    _ => strip,
                };
            }

            Assert.Equal(given, strip.ReadsTaken);
            for (var more = 0; strip.Next is not null; more++)
            {
                Assert.True(more < 4, "A strip of two patches read twice is complete after four reads.");
                strip = strip.Accept(Some.Reading());
            }

            Assert.All(strip.Patches, p => Assert.True(p.LeftOut is not null || p.Accepted.Count() == 2));
        });

    [Fact]
    public void Remedy_taken_back_gives_every_read_its_patch_again_and_keeps_what_came_later()
    {
        var strip = _begun.Accept(Some.Reading(0.20m)).Accept(Some.Reading(0.21m)).Accept(Some.Reading(0.40m));
        var exchanged = strip.Apply(new Remedy.ReorderPatches([1, 0]), Some.Moment);
        Assert.Equal([0.40m], Reds(exchanged, 0));
        Assert.Equal("read as LD, moved to D-min", exchanged.Patches[0].Reads[0].Note);
        Assert.Equal("dmin", exchanged.Next!.Patch.Key);
        Assert.True(exchanged.LastWasRemedy);

        var back = exchanged.Accept(Some.Reading(0.41m)).Undo(Some.Moment).Undo(Some.Moment);
        Assert.Equal([0.20m, 0.21m], Reds(back, 0));
        Assert.Equal([0.40m], Reds(back, 1));
        Assert.Equal(4, back.ReadsTaken);
        Assert.Equal(GuidedStrip.TakenBack, back.Patches[0].Reads[2].Exclusion!.Reason);
        Assert.All(back.Patches.SelectMany(p => p.Reads), r => Assert.Null(r.Note));
        Assert.Equal([], Reds(back.Undo(Some.Moment), 1));
    }

    [Fact]
    public void Steps_before_a_remedy_follow_their_reads_to_the_other_patch()
    {
        var strip = _begun.Accept(Some.Reading(0.20m)).Accept(Some.Reading(0.21m)).Accept(Some.Reading(0.40m)).Apply(
            new Remedy.ReorderPatches([1, 0]), Some.Moment);
        Assert.Equal(("dmin", 0.40m), (strip.LastRead!.Value.Target.Patch.Key, strip.LastRead.Value.Reading.Densities.Red!.Value.Value));
        var left = strip.LeaveOutLastRead("dust", Some.Moment);
        Assert.Equal("dust", left.Patches[0].Reads[0].Exclusion!.Reason);
        Assert.Equal("dust", left.Undo(Some.Moment).Patches[1].Reads[0].Exclusion!.Reason);
    }

    [Fact]
    public void Read_left_out_by_a_remedy_is_no_step_until_the_remedy_is_taken_back()
    {
        var strip = _begun.Accept(Some.Reading(0.20m)).Accept(Some.Reading(0.20m)).Apply(
            new Remedy.LeaveOutRead(new ReadPlace("dmin", 1), "triggered twice"), Some.Moment);
        Assert.Equal(("dmin", 2), (strip.Next!.Patch.Key, strip.Next.Read));
        var back = strip.Undo(Some.Moment);
        Assert.Equal("ld", back.Next!.Patch.Key);
        Assert.Equal(GuidedStrip.TakenBack, back.Undo(Some.Moment).Patches[0].Reads[1].Exclusion!.Reason);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(-1)]
    [InlineData(51)]
    public void Plan_with_impossible_reads_is_refused(int reads) =>
        Assert.Throws<ImpossibleValueException>(() => Some.Plan(reads));

    private static IEnumerable<decimal> Reds(GuidedStrip strip, int patch) =>
        strip.Patches[patch].Accepted.Select(r => r.Densities.Red!.Value.Value);

    private GuidedStrip Complete()
    {
        var strip = _begun;
        while (!strip.IsComplete)
        {
            strip = strip.Accept(Some.Reading());
        }

        return strip;
    }
}

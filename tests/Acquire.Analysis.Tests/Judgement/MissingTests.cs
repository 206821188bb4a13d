using Acquire.Analysis.Judgement;

namespace Acquire.Analysis.Tests.Judgement;

public class MissingTests
{
    private static readonly Exclusion Scratched = new("scratched", Some.Time);

    // What is made of the HD patch, and the reason that HD − LD then gives.
    public static TheoryData<Func<PatchReads, PatchReads>, string> Damages => new()
    {
        { hd => PatchReads.None(hd.Patch), "HD was not read." },
        { hd => hd with { LeftOut = Scratched }, "HD was left out: scratched." },
        { hd => hd with { Reads = [.. hd.Reads.Select(r => r with { Exclusion = Scratched })] }, "No read of HD counts." },
        { hd =>
            Some.Reads("hd", new Reading(new ChannelDensities(null, new Density(1.7m), null), Some.Time, [])), "HD was not read in red." },
    };

    [Theory]
    [MemberData(nameof(Damages))]
    public void Missing_patch_leaves_its_parameters_with_a_reason(Func<PatchReads, PatchReads> damage, string reason)
    {
        var patches = Some.Patches(Some.Densities);
        var judgement = StripJudge.Judge(Some.Strip(patches.SetItem(2, damage(patches[2]))));

        var missing = judgement.Result("contrast", Channel.Red);

        Assert.Equal(
            (null, null, null, null, reason),
            (missing.Value, missing.Deviation, missing.StandardUncertainty, missing.Zone, missing.WhyMissing));
        Assert.Equal(0.8, missing.Aim);
        Assert.Equal(Zone.Inside, judgement.Result("ld", Channel.Red).Zone);
        Assert.Contains(missing, judgement.Unjudged);
        Assert.Equal(Zone.Inside, judgement.Overall);
    }

    [Fact]
    public void Missing_aim_leaves_the_value_with_a_reason()
    {
        var judgement = StripJudge.Judge(Some.Strip(Some.Patches(Some.Densities), []));

        var result = judgement.Result("ld", Channel.Blue);

        Assert.Equal((1.04, null, null, null), (result.Value, result.Aim, result.Deviation, result.Zone));
        Assert.Equal("Lot 1204 had no aim for LD in blue.", result.WhyMissing);
        Assert.Null(judgement.Overall);
        Assert.Empty(judgement.Worst);
    }

    [Fact]
    public void Missing_limits_leave_the_deviation_without_a_zone()
    {
        var sheet = new ProcessSheet(
            "house", "House", DensityStatus.M, Some.C41.Layout,
            [new PatchParameter("ld", "LD", "speed", "ld", [Channel.Red], ParameterLimits.None)]);

        var judgement = StripJudge.Judge(Some.Strip(Some.Patches(Some.Moved(("ld", 0.2m, 0, 0))), judgedBy: sheet));

        var result = judgement.Results.Single();
        Assert.Equal((0.2, null, "No limits are set for LD."), (result.Deviation, result.Zone, result.WhyMissing));
        Assert.Null(judgement.Overall);
    }

    [Fact]
    public void Patch_that_the_strips_layout_lacks_is_missing_and_not_a_failure()
    {
        var layout = new StripLayout("other", [new Patch("step1", "Step 1")]);
        var sheet = new ProcessSheet(
            "house", "House", DensityStatus.M, layout,
            [new PatchParameter("s", "Step 1", "speed", "step1", [Channel.Red], ParameterLimits.None)]);

        var result = StripJudge.Judge(Some.Strip(Some.Patches(Some.Densities), judgedBy: sheet)).Results.Single();

        Assert.Equal("The strip layout 'Colour negative, five patches' has no patch 'step1'.", result.WhyMissing);
    }
}

using static Acquire.Domain.Tests.Assertions;

namespace Acquire.Domain.Tests.Strips;

public class PatchReadsTests
{
    private static readonly Exclusion Smeared = new("smeared", Some.Time);

    [Fact]
    public void Reads_left_out_stay_but_do_not_count()
    {
        var reads = Some.Reads("ld", 0.45m, 0.99m, 0.46m);

        var marked = reads with { Reads = reads.Reads.SetItem(1, reads.Reads[1] with { Exclusion = Smeared }) };

        Assert.Equal(3, marked.Reads.Length);
        Assert.Equal([new Density(0.45m), new Density(0.46m)], marked.Densities(Channel.Red));
    }

    [Fact]
    public void Patch_left_out_has_no_reads_that_count() => Assert.Empty((Some.Reads("ld", 0.45m) with { LeftOut = Smeared }).Accepted);

    [Fact]
    public void Channel_that_was_not_read_has_no_densities() => Assert.Empty(Some.Reads("ld", 0.45m).Densities(Channel.Visual));

    [Fact]
    public void Patch_without_reads_is_empty_however_it_is_made()
    {
        Assert.Empty(PatchReads.None(new Patch("ld", "LD")).Accepted);
        Assert.Empty(new PatchReads(new Patch("ld", "LD"), default).Accepted);
    }

    [Fact]
    public void Exclusion_without_a_reason_is_refused() => Refused("reason", () => new Exclusion(" ", Some.Time));

    [Fact]
    public void Impossible_mean_is_refused()
    {
        Refused("finite", () => new PatchMean("ld", Channel.Red, double.NaN, 1, null, 0.01));
        Refused("one read at least", () => new PatchMean("ld", Channel.Red, 0.4, 0, null, 0.01));
        Refused("not below zero", () => new PatchMean("ld", Channel.Red, 0.4, 2, -0.1, 0.01));
        Refused("finite number", () => new PatchMean("ld", Channel.Red, 0.4, 2, double.PositiveInfinity, 0.01));
        Refused("above zero", () => new PatchMean("ld", Channel.Red, 0.4, 2, 0.1, 0));
        Refused("The patch of a mean", () => new PatchMean("", Channel.Red, 0.4, 2, 0.1, 0.01));
    }
}

using Acquire.Analysis.Causes;

namespace Acquire.Analysis.Tests.Signatures;

public class FaultSignaturesTests
{
    [Fact]
    public void Keys_are_unique_and_every_row_says_what_to_check_and_where_it_comes_from()
    {
        Assert.Equal(FaultSignatures.All.Length, FaultSignatures.All.DistinctBy(s => s.Key).Count());
        Assert.All(FaultSignatures.All, s => Assert.False(string.IsNullOrWhiteSpace(s.FirstCheck)));
        Assert.All(FaultSignatures.All, s => Assert.Contains("from memory", s.Source, StringComparison.Ordinal));
        Assert.All(
            FaultSignatures.All, s => Assert.All(s.Sizes.Keys, k => Assert.Contains(k, new[] { "dmin", "ld", "hd", "dmax", "yellow" })));
    }

    [Theory]
    [Trait("Source", "Common practice, no source: developer activity moves LD and HD − LD together, in all colours")]
    [InlineData("developer-hot", 1)]
    [InlineData("developer-cold", -1)]
    [InlineData("over-replenished", 1)]
    [InlineData("developer-exhausted", -1)]
    [InlineData("agitation-low", -1)]
    public void Activity_moves_speed_and_contrast_the_same_way(string key, int sign) => Assert.All(Channels.Colours, c =>
    {
        Assert.Equal(sign, Math.Sign(Of(key, "ld", c)));
        Assert.Equal(sign, Math.Sign(Of(key, "hd", c) - Of(key, "ld", c)));
    });

    [Fact]
    [Trait("Source", "Common practice, no source: D-max B − yellow B rises with retained silver and hardly with anything of the developer")]
    public void Only_silver_and_fixing_move_the_silver_difference()
    {
        double Silver(FaultSignature s) => s.Size("dmax", Channel.Blue) - s.Size("yellow", Channel.Blue);
        var moving =
            FaultSignatures.Of("c41").Where(s => s.Origin == FaultOrigin.Process && Math.Abs(Silver(s)) >= 0.01).Select(s => s.Key);

        Assert.Equal(["bleach-fix-used-up", "fixer-exhausted", "retained-silver"], moving.Order());
        Assert.True(Silver(KnownFault.Of("retained-silver")) > 0.10);
    }

    [Fact]
    [Trait("Source", "Common practice, no source: leuco-cyan lowers red only")]
    public void Leuco_cyan_lowers_red_alone()
    {
        Assert.True(Of("leuco-cyan", "hd", Channel.Red) < -0.05);
        Assert.All(
            new[] { "dmin", "ld", "hd", "dmax", "yellow" },
            p => Assert.Equal(0, Of("leuco-cyan", p, Channel.Green) + Of("leuco-cyan", p, Channel.Blue)));
    }

    [Fact]
    public void Zero_error_cancels_in_contrast_and_a_slope_grows_with_density()
    {
        Assert.All(Channels.Colours, c => Assert.Equal(Of("zero-low", "ld", c), Of("zero-low", "hd", c)));
        Assert.True(Of("slope-high", "dmax", Channel.Blue) > Of("slope-high", "hd", Channel.Blue));
    }

    [Fact]
    public void Missing_final_rinse_does_not_show_and_other_processes_have_no_signatures()
    {
        Assert.False(KnownFault.Of("final-rinse-missing").Shows);
        Assert.Empty(FaultSignatures.Of("e6"));
        Assert.Equal(0, KnownFault.Of("poor-wash").Size("md", Channel.Red));
    }

    private static double Of(string key, string patch, Channel channel) => KnownFault.Of(key).Size(patch, channel);
}

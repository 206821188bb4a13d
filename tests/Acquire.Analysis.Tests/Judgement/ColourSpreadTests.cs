using Acquire.Analysis.Judgement;

namespace Acquire.Analysis.Tests.Judgement;

public class ColourSpreadTests
{
    private static StripJudgement WithHdMoved(decimal r, decimal g, decimal b) =>
        StripJudge.Judge(Some.Strip(Some.Patches(Some.Moved(("hd", r, g, b)))));

    [Theory]
    [InlineData(0.02, 0.08, -0.01, 0.09)] // red minus blue would be 0.03
    [InlineData(0.03, -0.02, 0.05, 0.07)]
    [InlineData(-0.01, -0.01, -0.01, 0)]
    [Trait("Source", "US training manuals (Navy, Army): largest minus smallest of the three plotted deviations")]
    public void Spread_is_the_largest_minus_the_smallest_deviation(double r, double g, double b, double spread)
    {
        var result = WithHdMoved((decimal)r, (decimal)g, (decimal)b).Result("spread");

        Assert.Equal((spread, 0.0, spread), (result.Value, result.Aim, result.Deviation));
        Assert.Equal(
            ((double)((decimal)r - (decimal)g), (double)((decimal)b - (decimal)g)),
            (result.Spread!.RedMinusGreen, result.Spread.BlueMinusGreen));
    }

    [Theory]
    [InlineData(0.09, Zone.Inside)]
    [InlineData(0.10, Zone.Out)]
    [Trait("Source", "Common practice, no source: the spread has a control limit of 0.09 only")]
    public void Spread_has_a_control_limit_only(double spread, Zone expected) =>
        Assert.Equal(expected, WithHdMoved(0, (decimal)spread / 2, -(decimal)spread / 2).Result("spread").Zone);

    [Fact]
    [Trait("Source", "d2(3) = 3/√π; each deviation of HD − LD holds HD and LD of strip and aim")]
    public void Spread_tells_what_reading_noise_alone_would_show()
    {
        var judgement = WithHdMoved(0, 0.02m, 0);
        var result = judgement.Result("spread");
        double[] u = [.. Channels.Colours.Select(c => judgement.Result("contrast", c).StandardUncertainty!.Value)];

        Assert.Equal(3 / Math.Sqrt(Math.PI) * Math.Sqrt(u.Average(x => x * x)), result.Spread!.FromReadingNoise, 1e-9);
        Assert.Equal(6, result.RestsOn.Length);
    }

    [Fact]
    [Trait("Source", "By hand: the variance of a difference of two is that of both")]
    public void Spread_has_the_uncertainty_of_its_two_ends()
    {
        var aims = Aims.Of(Some.Lot(), Some.Reference(Some.Patches(Some.Densities)))
            .Select(a => a.PatchKey != "hd" ? a : new Aim("hd", a.Channel, a.Reference, 0, 0.01 * (1 + (int)a.Channel)));

        // Red is the highest and blue the lowest; green lies between and has no part in the uncertainty of the spread.
        var judgement = StripJudge.Judge(Some.Strip(Some.Patches(Some.Moved(("hd", 0.03m, 0, -0.03m))), [.. aims]));
        double Square(Channel c) => Math.Pow(judgement.Result("contrast", c).StandardUncertainty!.Value, 2);

        Assert.Equal(Math.Sqrt(Square(Channel.Red) + Square(Channel.Blue)), judgement.Result("spread").StandardUncertainty!.Value, 1e-12);
    }

    [Fact]
    public void Spread_without_one_colour_is_missing_and_says_why()
    {
        var reds = Some.Densities.Select(
            d => Some.Reads(d.Key, new Reading(new ChannelDensities(new Density(d.R), new Density(d.G), null), Some.Time, [])));

        var result = StripJudge.Judge(Some.Strip([.. reds])).Result("spread");

        Assert.Equal((null, null, null), (result.Value, result.Deviation, result.Zone));
        Assert.Equal(
            "Colour spread of HD − LD needs the deviations of 'contrast' in red, green and blue. HD was not read in blue.",
            result.WhyMissing);
    }
}

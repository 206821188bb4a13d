using Acquire.Analysis.Gauge;
using Acquire.Analysis.Judgement;

namespace Acquire.Analysis.Tests.Judgement;

public class StripJudgeTests
{
    private static StripRecord Moved(params (string Key, decimal R, decimal G, decimal B)[] moves) =>
        Some.Strip(Some.Patches(Some.Moved(moves)));

    [Fact]
    [Trait("Source", "A photochemical vendor's support page on film control strips: HD − LD 0.86, 1.01, 1.05; D-max B − yellow B is "
        + "0.28, the page's 0.18 is a misprint")]
    public void Differences_are_those_of_the_worked_example()
    {
        (string, decimal, decimal, decimal)[] page =
        [
            ("dmin", 0.32m, 0.63m, 0.72m),
            ("ld", 0.44m, 0.76m, 0.98m),
            ("hd", 1.30m, 1.77m, 2.03m),
            ("dmax", 2.1m, 2.5m, 2.98m),
            ("yellow", 0.4m, 0.9m, 2.70m),
        ];

        var judgement = StripJudge.Judge(Some.Strip(Some.Patches(page), []));

        Assert.Equal([0.86, 1.01, 1.05], Channels.Colours.Select(c => judgement.Result("contrast", c).Value!.Value));
        Assert.Equal(0.28, judgement.Result("silver", Channel.Blue).Value);
        Assert.All(judgement.Results, r => Assert.Null(r.Zone));
    }

    [Fact]
    public void Results_come_in_the_order_of_the_sheet() => Assert.Equal(
        ["dmin R", "dmin G", "dmin B", "ld R", "ld G", "ld B", "contrast R", "contrast G", "contrast B", "silver B", "spread "],
        StripJudge.Judge(Moved()).Results.Select(r => $"{r.Parameter.Key} {r.Channel?.Letter()}"));

    [Fact]
    public void Strip_on_aim_is_inside_everywhere()
    {
        var judgement = StripJudge.Judge(Moved());

        Assert.All(judgement.Results, r => Assert.Equal((0.0, Zone.Inside, null), (r.Deviation, r.Zone, r.WhyMissing)));
        Assert.Equal(Zone.Inside, judgement.Overall);
        Assert.Empty(judgement.Worst);
        Assert.Empty(judgement.Unjudged);
    }

    [Fact]
    public void Deviation_is_strip_minus_aim()
    {
        var result = StripJudge.Judge(Moved(("ld", -0.03m, 0, 0))).Result("ld", Channel.Red);

        Assert.Equal((0.43, 0.46, -0.03), (result.Value, result.Aim, result.Deviation));
    }

    [Fact]
    public void Corrected_aim_is_what_the_strip_is_compared_with()
    {
        var lot = Some.Lot(new CorrectionFactor("hd", Channel.Green, -0.04), new CorrectionFactor("ld", Channel.Green, 0.02));
        var aims = Aims.Of(lot, Some.Reference(Some.Patches(Some.Densities)));

        var judgement = StripJudge.Judge(Some.Strip(Some.Patches(Some.Densities), aims));

        Assert.Equal(-0.02, judgement.Result("ld", Channel.Green).Deviation);
        Assert.Equal((0.9, 0.84, 0.06), (judgement.Result("contrast", Channel.Green) is var c ? (c.Value, c.Aim, c.Deviation) : default));
    }

    [Fact]
    [Trait("Source", "By hand: strip and reference read once, 0.010² (1 + 0.45² D²) each, and two zeros of 0.0125/√3")]
    public void Uncertainty_of_a_deviation_counts_every_mean_and_aim_that_goes_in()
    {
        var judgement = StripJudge.Judge(Moved());
        double Square(double density) => 0.0001 * (1 + (0.2025 * density * density));

        Assert.Equal(
            Math.Sqrt((2 * Square(0.46)) + (2 * 0.0125 * 0.0125 / 3)),
            judgement.Result("ld", Channel.Red).StandardUncertainty!.Value, 1e-9);
        Assert.Equal(
            Math.Sqrt(2 * (Square(0.46) + Square(1.26))), judgement.Result("contrast", Channel.Red).StandardUncertainty!.Value, 1e-9);
        Assert.Single(judgement.Result("ld", Channel.Red).RestsOn);
        Assert.Equal(2, judgement.Result("contrast", Channel.Red).RestsOn.Length);
        Assert.Empty(judgement.Repeatability);
    }

    [Fact]
    [Trait("Source", "By hand: √(2 · 0.01²/12) for a difference of two patches")]
    public void History_is_not_blinded_by_an_assumption()
    {
        var result = StripJudge.Judge(Moved()).Result("contrast", Channel.Red);

        Assert.Equal(0.01 / Math.Sqrt(6), result.LeastReadingUncertainty!.Value, 1e-12);
        Assert.True(result.ReadingUncertainty > 0.014);
    }

    [Fact]
    public void Result_says_what_of_it_rests_on_an_assumption()
    {
        var judgement = StripJudge.Judge(Moved());

        Assert.Equal(Assumed.Repeatability | Assumed.Zero, judgement.Result("ld", Channel.Red).RestsOnAssumption);
        Assert.Equal(Assumed.Repeatability, judgement.Result("contrast", Channel.Red).RestsOnAssumption);
        Assert.Equal(Assumed.Repeatability, judgement.Result("spread").RestsOnAssumption);
        Assert.Equal(Assumed.Repeatability | Assumed.Zero, judgement.RestsOnAssumption);
    }

    [Fact]
    [Trait("Source", "By hand: s = 0.01 pooled over 5 patches of 3 reads makes 0.01²/3; an aim entered once and two zeros as assumed")]
    public void Uncertainty_of_a_deviation_rests_on_the_strips_own_repeats()
    {
        var patches = Some.Densities.Select(d => Some.Reads(
            d.Key,
            Some.Reading(d.R - 0.01m, d.G - 0.01m, d.B - 0.01m),
            Some.Reading(d.R, d.G, d.B),
            Some.Reading(d.R + 0.01m, d.G + 0.01m, d.B + 0.01m)));

        var judgement = StripJudge.Judge(Some.Strip([.. patches]));

        Assert.Equal(10, judgement.Repeatability[Channel.Green].DegreesOfFreedom);
        var aim = 0.0001 * (1 + (0.2025 * 0.84 * 0.84));
        Assert.Equal(
            Math.Sqrt((0.0001 / 3) + aim + (2 * 0.0125 * 0.0125 / 3)),
            judgement.Result("ld", Channel.Green).StandardUncertainty!.Value, 1e-4);
    }

    [Fact]
    public void Overall_is_the_worst_zone_and_says_of_what()
    {
        var judgement = StripJudge.Judge(Moved(("dmin", 0.04m, 0.06m, 0), ("ld", 0, 0, 0.07m), ("hd", 0, 0, 0.07m)));

        Assert.Equal(Zone.Out, judgement.Overall);
        Assert.Equal(["dmin green"], judgement.Worst.Select(r => $"{r.Parameter.Key} {r.Channel?.Word()}"));
    }
}

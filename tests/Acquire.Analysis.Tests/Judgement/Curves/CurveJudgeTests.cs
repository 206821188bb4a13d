using Acquire.Analysis.Judgement;
using Acquire.Formats.ProcessSheets;

namespace Acquire.Analysis.Tests.Judgement.Curves;

public class CurveJudgeTests
{
    private static readonly ProcessSheet Bw = ShippedSheets.Get("bw");
    private static readonly Lazy<List<StripJudgement>> SimulatedStrips = new(Simulated);

    // D = 0.30 + 0.60 · (log H − 0.60) above log H 0.60, flat below: the speed point 0.10 above lies at 0.60 + 0.10 / 0.60.
    private static double Straight(double logH) => 0.30 + (0.60 * Math.Max(0, logH - 0.60));

    [Fact]
    [Trait("Source", "By hand, a straight line of slope 0.60 from log H 0.60")]
    public void Straight_curve_gives_its_slope_gradient_and_speed_point()
    {
        var judgement = StripJudge.Judge(Strip(Bw, Straight, Straight));

        Assert.Equal(0.60, judgement.Result("gradient", Channel.Visual).Value!.Value, 1e-6);
        Assert.Equal(0.60, judgement.Result("slope", Channel.Visual).Value!.Value, 1e-6);
        Assert.Equal(0.60 + (0.10 / 0.60), judgement.Result("speed-point", Channel.Visual).Value!.Value, 1e-6);
        Assert.All(
            new[] { "gradient", "slope", "speed-point" }, k => Assert.Equal(0, judgement.Result(k, Channel.Visual).Deviation!.Value, 1e-9));
    }

    [Fact]
    public void Strip_half_a_stop_faster_deviates_by_that_in_log_exposure_and_not_in_contrast()
    {
        var judgement = StripJudge.Judge(Strip(Bw, h => Straight(h + 0.15), Straight));

        Assert.Equal(-0.15, judgement.Result("speed-point", Channel.Visual).Deviation!.Value, 1e-6);
        Assert.Equal(0, judgement.Result("gradient", Channel.Visual).Deviation!.Value, 1e-6);
        Assert.Equal("log H", judgement.Result("speed-point", Channel.Visual).Parameter.Unit);
    }

    [Fact]
    public void Parameters_of_patches_that_the_strip_has_not_are_not_on_it_and_no_gap()
    {
        var judgement = StripJudge.Judge(Strip(Bw, Straight, Straight));

        Assert.Equal(["speed", "contrast", "dmax"], judgement.NotOnStrip.Select(p => p.Key));
        Assert.Equal(["dmin", "speed-point", "gradient", "slope"], judgement.Unjudged.Select(r => r.Parameter.Key));
        Assert.Null(judgement.Overall);
        Assert.Equal("No limits are set for D-min.", judgement.Result("dmin", Channel.Visual).WhyMissing);
    }

    [Fact]
    public void Density_that_the_strip_does_not_reach_is_said_and_not_extrapolated()
    {
        var result = StripJudge.Judge(Strip(Bw, _ => 0.30, Straight)).Result("speed-point", Channel.Visual);

        Assert.Equal((null, null, null), (result.Value, result.Deviation, result.Zone));
        Assert.Equal("Speed point 0.10 above D-min: the density 0.40 is not reached on this strip.", result.WhyMissing);
        Assert.NotNull(result.Aim);
    }

    [Fact]
    public void Step_left_out_is_left_out_of_the_aim_too()
    {
        // On a bent curve the line over a gap lies off it; on both sides alike.
        static double Bent(double h) => 0.30 + (0.25 * h * h);
        var result = StripJudge.Judge(Strip(Bw, Bent, Bent, leftOut: "step6")).Result("speed-point", Channel.Visual);

        Assert.Equal(0, result.Deviation!.Value, 1e-12);
    }

    [Fact]
    public void Base_patch_left_out_says_so()
    {
        var result = StripJudge.Judge(Strip(Bw, Straight, Straight, leftOut: "dmin")).Result("speed-point", Channel.Visual);

        Assert.Equal("D-min (unexposed) was left out: scratched.", result.WhyMissing);
        Assert.True(result.OnStrip);
    }

    [Fact]
    public void Zone_stands_only_where_a_limit_is_filled_in()
    {
        var limit = new Limit(-0.1, 0.1, "sheet in the box");
        var sheet = new ProcessSheet(
            Bw.Key, Bw.Name, Bw.Status, Bw.Layouts,
            [.. Bw.Parameters.Select(p => p.Key == "speed-point" ? p with { ChannelLimits =
                ImmutableDictionary.CreateRange([KeyValuePair.Create(Channel.Visual, new ParameterLimits(limit, null))]) } : p)]);

        var judgement = StripJudge.Judge(Strip(sheet, h => Straight(h + 0.15), Straight));

        Assert.Equal(Zone.Action, judgement.Result("speed-point", Channel.Visual).Zone);
        Assert.Null(judgement.Result("gradient", Channel.Visual).Zone);
        Assert.Equal(limit, judgement.Result("speed-point", Channel.Visual).Limits.Action);
    }

    [Fact]
    public void Layout_that_the_sheet_no_longer_has_leaves_no_exposures_and_says_so()
    {
        var wedge = Bw.GetLayout("wedge21");
        var renamed = new ProcessSheet(
            Bw.Key, Bw.Name, Bw.Status, Bw.Layouts.Replace(wedge, new SheetLayout("w", "Another wedge", wedge.Patches)), Bw.Parameters);

        var result = StripJudge.Judge(Strip(Bw, Straight, Straight, judgedBy: renamed)).Result("gradient", Channel.Visual);

        Assert.False(result.OnStrip);
        Assert.Contains("has no strip layout 'Black-and-white negative, 21-step wedge'", result.WhyMissing, StringComparison.Ordinal);
    }

    /// <summary>
    /// Steps drawn at random about their true densities, many times: does the stated u match the scatter of the deviation?
    /// </summary>
    [Theory]
    [InlineData("speed-point")]
    [InlineData("gradient")]
    [InlineData("slope")]
    [Trait("Source", "Simulation, seeded")]
    public void Uncertainty_matches_the_scatter_of_simulated_strips(string key)
    {
        var results = SimulatedStrips.Value.Select(s => s.Result(key, Channel.Visual)).ToList();

        var scatter = Math.Sqrt(results.Average(r => r.Deviation!.Value * r.Deviation!.Value));
        var stated = Math.Sqrt(results.Average(r => r.StandardUncertainty!.Value * r.StandardUncertainty!.Value));
        Assert.InRange(stated / scatter, 0.88, 1.12);
    }

    /// <summary>Judged once for all keys.</summary>
    private static List<StripJudgement> Simulated()
    {
        const double Sigma = 0.010;
        const int Strips = 250;
        static double Bent(double h) => 0.30 + (0.60 * Math.Log(1 + Math.Exp(4 * (h - 1.2))) / 4);
        var random = new Random(5);
        return [.. Enumerable.Range(0, Strips).Select(_ => StripJudge.Judge(Strip(Bw, Bent, Bent, sigma: Sigma, random: random)))];
    }

    /// <summary>
    /// A strip of the 21-step wedge; the reference strip is read without scatter and its aims are exact, so that only the strip's reads
    /// scatter.
    /// </summary>
    private static StripRecord Strip(
        ProcessSheet sheet, Func<double, double> strip,
        Func<double, double> aim, string? leftOut = null, double sigma = 0, Random? random = null, ProcessSheet? judgedBy = null)
    {
        var layout = sheet.GetLayout("wedge21");
        PatchReads Reads(LayoutPatch patch, Func<double, double> curve) => new(
            patch.Patch,
            [.. Enumerable.Range(0, 3).Select(_ => new PatchRead(Reading.Entered(
                new ChannelDensities(
                    null,
                    null,
                    null,
                    new Density(Math.Round((decimal)(curve(patch.LogH ?? -1) + (sigma * Normal(random))), 6))), Some.Time)))],
            patch.Patch.Key == leftOut ? new Exclusion("scratched", Some.Time) : null);
        ImmutableArray<PatchReads> patches = [.. layout.Patches.Select(p => Reads(p, strip))];
        return new StripRecord(
            Guid.CreateVersion7(Some.Time), "77", layout.Strip, judgedBy ?? sheet, patches, PatchMeans.Of(patches),
            [.. layout.Patches.Select(p => new Aim(p.Patch.Key, Channel.Visual, Math.Round(aim(p.LogH ?? -1), 6), 0, 1e-5))],
            Some.Provenance, Revision.First("staff", Some.Time, "read"));
    }

    private static double Normal(Random? random) => random is null
        ? 0
        : Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}

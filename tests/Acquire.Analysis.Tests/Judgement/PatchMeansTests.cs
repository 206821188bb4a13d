namespace Acquire.Analysis.Tests.Judgement;

public class PatchMeansTests
{
    [Fact]
    [Trait("Source", "Definition of density (ISO 5-2); the figures 0.3200 and 0.319540 recomputed")]
    public void Mean_is_of_densities_and_not_of_transmittances()
    {
        var mean = PatchMeans.Of([Some.Reds("ld", 0.30m, 0.34m)]).Single();

        Assert.Equal(0.32, mean.Mean);
        var byLight = -Math.Log10((Math.Pow(10, -0.30) + Math.Pow(10, -0.34)) / 2);
        Assert.Equal(0.319540, byLight, 1e-6);
    }

    [Theory]
    [InlineData(0.27, 0.26, 0.28)]
    [InlineData(0.1, 0.1, 0.1, 0.1)]
    [InlineData(0.2, 0.1, 0.2, 0.3)]
    [InlineData(1.13, 1.11, 1.13, 1.15)]
    public void Mean_of_decimals_is_the_decimal(double mean, params double[] reads) =>
        Assert.Equal(mean, PatchMeans.Of([Some.Reds("ld", reads.Select(r => (decimal)r))]).Single().Mean);

    [Fact]
    public void Mean_of_equal_reads_has_no_scatter() => Gen.Select(Gen.Int[0, 400], Gen.Int[2, 9]).Sample((hundredths, n) =>
    {
        var mean = PatchMeans.Of([Some.Reds("ld", Enumerable.Repeat(hundredths / 100m, n))]).Single();
        Assert.Equal((hundredths / 100.0, 0.0, n), (mean.Mean, mean.StandardDeviation!.Value, mean.Reads));
    });

    [Fact]
    public void Mean_of_one_read_has_no_deviation() => Assert.Null(PatchMeans.Of([Some.Reds("ld", 0.26m)]).Single().StandardDeviation);

    [Fact]
    [Trait("Source", "By hand: s of 0.26, 0.27, 0.28 is 0.01")]
    public void Deviation_is_that_of_a_sample() =>
        Assert.Equal(0.01, PatchMeans.Of([Some.Reds("ld", 0.26m, 0.27m, 0.28m)]).Single().StandardDeviation!.Value, 1e-15);

    [Fact]
    public void Resolution_is_the_coarsest_display_step() =>
        Assert.Equal(0.01, PatchMeans.Of([Some.Reds("ld", 0.261m, 0.26m, 0.2605m)]).Single().Resolution);

    [Fact]
    public void Read_left_out_does_not_count()
    {
        var reads = Some.Reds("ld", 0.26m, 0.99m, 0.28m);
        var cleaned =
            reads with { Reads = reads.Reads.SetItem(1, reads.Reads[1] with { Exclusion = new Exclusion("wrong patch", Some.Time) }) };

        var mean = PatchMeans.Of([cleaned]).Single();

        Assert.Equal((0.27, 2), (mean.Mean, mean.Reads));
    }

    [Fact]
    public void Patch_left_out_has_no_mean() =>
        Assert.Empty(PatchMeans.Of([Some.Reds("ld", 0.26m) with { LeftOut = new Exclusion("scratched", Some.Time) }]));

    [Fact]
    public void Means_come_by_patch_and_then_by_channel()
    {
        var means = PatchMeans.Of([Some.Reads("hd", Some.Reading(1, 2, 3)), Some.Reads("ld"), Some.Reads("dmin", Some.Reading(0, 1, 2))]);

        Assert.Equal(
            ["hd red", "hd green", "hd blue", "dmin red", "dmin green", "dmin blue"],
            means.Select(m => $"{m.PatchKey} {m.Channel.Word()}"));
    }
}

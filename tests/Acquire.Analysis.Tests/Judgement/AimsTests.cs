using Acquire.Analysis.Judgement;

namespace Acquire.Analysis.Tests.Judgement;

public class AimsTests
{
    [Theory]
    [InlineData(0.03, 0.49)]
    [InlineData(-0.02, 0.44)]
    [Trait("Source", "US Navy Photography (Advanced), US Army SS0514: aim = reference strip + signed correction factor")]
    public void Aim_is_the_reference_mean_plus_the_signed_factor(double factor, double expected)
    {
        var lot = Some.Lot(new CorrectionFactor("LD", Channel.Red, factor));

        var aims = Aims.Of(lot, Some.Reference([Some.Reads("ld", Some.Reading(0.45m, 0.84m, 1.04m), Some.Reading(0.47m, 0.84m, 1.04m))]));

        Assert.Equal(expected, aims[0].Value, 1e-12);
        Assert.Equal((0.46, factor), (aims[0].Reference, aims[0].Correction));
        Assert.Equal((0.84, 0.0), (aims[1].Reference, aims[1].Correction));
    }

    [Fact]
    [Trait("Source", "By hand: 0.010² (1 + 0.45² D²) for one read of an instrument of which nothing is known")]
    public void Aim_of_a_reference_entered_without_a_word_counts_as_read_once()
    {
        var aims = Aims.Of(Some.Lot(), Some.Reference(Some.Patches(Some.Densities)));

        Assert.Equal(15, aims.Length);
        Assert.All(aims, a => Assert.Equal(
            0.010 * Math.Sqrt(1 + (0.2025 * a.Reference * a.Reference)), a.StandardUncertainty, 1e-9));
    }

    [Fact]
    [Trait("Source", "By hand: four reads of s = 0.006 behind a value, u = 0.003; the test that told s is of that instrument")]
    public void Aim_of_an_entered_reference_rests_on_the_reads_that_it_says()
    {
        var test = new RepeatabilityInForce(Guid.CreateVersion7(), [new ChannelScatter(Channel.Red, 0.006, 27)]);
        double Of(ReferenceOrigin? origin) => Aims.Of(Some.Lot(), Some.Reference([Some.Reds("ld", 0.45m)]) with { Origin = origin }, test)
            .Single().StandardUncertainty;

        Assert.Equal(0.003, Of(ReferenceOrigin.Read(4, "bench")), 1e-9);
        Assert.Equal(0.006, Of(ReferenceOrigin.Read(1, "bench")), 1e-9);
        Assert.InRange(Of(ReferenceOrigin.Read(1)), 0.010, 0.011);
        Assert.InRange(Of(null), 0.010, 0.011);
        Assert.Equal(Math.Sqrt((0.012 * 0.012) + (0.0001 / 12)), Of(ReferenceOrigin.FromList(0.012)), 1e-9);
    }

    [Fact]
    [Trait("Source", "By hand: s = 0.01 with 2 degrees of freedom beside 4 assumed ones of 0.0102 at that density, u = s/√3")]
    public void Aim_of_a_reference_read_often_rests_on_its_reads() =>
        Assert.Equal(
            Math.Sqrt(((2 * 0.0001) + (4 * 0.0001 * (1 + (0.2025 * 0.46 * 0.46)))) / 6 / 3),
            Aims.Of(Some.Lot(), Some.Reference([Some.Reds("ld", 0.45m, 0.46m, 0.47m)])).Single().StandardUncertainty,
            5e-5);

    [Fact]
    public void Patch_without_a_read_that_counts_has_no_aim()
    {
        var leftOut = Some.Reds("hd", 1.26m) with { LeftOut = new Exclusion("scratched", Some.Time) };

        Assert.Equal(["ld"], Aims.Of(Some.Lot(), Some.Reference([Some.Reds("ld", 0.46m), leftOut])).Select(a => a.PatchKey));
    }

    [Fact]
    public void Reference_of_another_lot_makes_no_aims()
    {
        var refusal = Assert.Throws<ImpossibleValueException>(
            () => Aims.Of(Some.Lot(), Some.Reference(Some.Patches(Some.Densities), lot: "1205")));

        Assert.Contains("1205", refusal.Message, StringComparison.Ordinal);
        Assert.Contains("1204", refusal.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Reference_patch_that_the_lot_lacks_is_refused() =>
        Assert.Throws<ImpossibleValueException>(() => Aims.Of(
            new StripLot("1204", "c41", new StripLayout("short", [new Patch("dmin", "D-min")])),
            Some.Reference(Some.Patches(Some.Densities))));
}

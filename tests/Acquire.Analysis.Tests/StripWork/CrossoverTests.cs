using Acquire.Analysis.Judgement;
using Acquire.Analysis.StripWork;
using Acquire.Analysis.Tests.Judgement;

namespace Acquire.Analysis.Tests.StripWork;

/// <summary>
/// Old and new strips processed together at least three separate times; the new aims are not forced to equal the old ones.
/// </summary>
[Trait("Source", "US Navy Photography (Advanced); US Army SS0514")]
public sealed class CrossoverTests
{
    private static readonly Aim[] NewAims = [.. Aims.Of(Some.Lot(), Some.Reference(Some.Patches(Some.Moved(("ld", 0.10m, 0.10m, 0.10m)))))];

    /// <summary>
    /// Invented: LD red, aim 0.46 old and 0.56 new. Old deviations +0.02, 0.00, +0.01; new −0.03, −0.04, −0.05. Differences −0.05, −0.04,
    /// −0.06: mean −0.05, s 0.01. Student's t at 2 degrees of freedom and 0.975 is 4.303 (NIST/SEMATECH e-Handbook 1.3.6.7.2).
    /// </summary>
    [Fact]
    [Trait("Source", "NIST/SEMATECH e-Handbook 1.3.6.7.2")]
    public void Difference_and_interval_are_those_of_the_hand()
    {
        var row = LdRed(Of((0.02m, -0.03m), (0.00m, -0.04m), (0.01m, -0.05m)));

        Assert.Equal([-0.05, -0.04, -0.06], row.Differences.Select(d => Math.Round(d.Difference, 9)));
        Assert.Equal(-0.05, row.Average, 1e-12);
        Assert.Equal(0.01, row.Scatter!.Value, 1e-12);
        Assert.Equal(4.303 * 0.01 / Math.Sqrt(3), row.HalfInterval!.Value, 1e-5);
        Assert.Equal(0.51, row.AdjustedAim, 1e-12);
        Assert.False(row.Agrees);
    }

    /// <summary>New aim = average reading of the new strips − average deviation of the old ones (common practice, no source).</summary>
    [Fact]
    public void Adjusted_aim_is_new_reading_less_old_deviation_whatever_the_published_aim() => Gen.Select(
        Gen.Int[-80, 80].Array[6], Gen.Int[-50, 50]).Sample((moves, published) =>
        {
            var pairs = Enumerable.Range(0, 3).Select(i => Pair(moves[i] / 1000m, moves[i + 3] / 1000m)).ToList();
            var aims = NewAims.Select(a => new Aim(a.PatchKey, a.Channel, a.Reference + (published / 1000.0), 0, 0.002));
            var row = LdRed(Crossover.Of("1204", "1311", pairs, [.. aims]));
            var reading = pairs.Average(p => p.New.Mean("ld", Channel.Red)!.Mean);
            var deviation = pairs.Average(p => p.Old.Mean("ld", Channel.Red)!.Mean - 0.46);
            Assert.Equal(reading - deviation, row.AdjustedAim, 1e-9);
        });

    [Fact]
    public void Pairs_that_agree_leave_the_published_aims()
    {
        var crossover = Of((0.02m, 0.01m), (0.00m, 0.03m), (0.01m, 0.02m));

        Assert.True(crossover.IsEnough);
        Assert.True(crossover.Agrees);
        Assert.Contains("can stand", crossover.Words(), StringComparison.Ordinal);
    }

    [Fact]
    public void Two_pairs_are_shown_and_are_not_enough()
    {
        var crossover = Of((0.02m, -0.03m), (0.00m, -0.04m));

        Assert.False(crossover.IsEnough);
        Assert.NotEmpty(crossover.Rows);
        Assert.Contains("too few", crossover.Words(), StringComparison.Ordinal);
        Assert.Contains("No pairs yet", Of().Words(), StringComparison.Ordinal);
    }

    /// <summary>Three pairs that happen to be alike are no surer than their readings.</summary>
    [Fact]
    public void Pairs_alike_by_chance_keep_the_uncertainty_of_reading()
    {
        var row = LdRed(Of((0.01m, -0.04m), (0.01m, -0.04m), (0.01m, -0.04m)));

        // One read each of s = 0.003 at a step of 0.01: u² = 2 (0.003² + 0.01²/12) a pair.
        Assert.Equal(Math.Sqrt(2 * (0.000009 + (0.0001 / 12)) / 3), row.PairUncertainty, 1e-12);
        Assert.True(row.AdjustedUncertainty > row.PairUncertainty);
    }

    [Fact]
    public void Patch_left_out_of_a_pair_is_missing_there_only()
    {
        var (old, young) = Pair(0, 0);
        var blind = Some.Strip([.. young.Patches.Select(p => p.Patch.Key == "hd" ? p with { Reads = [] } : p)]);
        var crossover = Crossover.Of("1204", "1311", [(old, blind), Pair(0, 0), Pair(0, 0)], [.. NewAims]);

        Assert.False(crossover.IsEnough);
        Assert.Equal(2, crossover.Rows.First(r => r.Aim.PatchKey == "hd").Differences.Length);
        Assert.Equal(3, LdRed(crossover).Differences.Length);
    }

    /// <summary>
    /// Five strips of five days make the reference; its uncertainty is that of their scatter (s/√5), not of the single reads.
    /// </summary>
    [Fact]
    [Trait("Source", "a film maker's published radiographic quality-control procedure")]
    public void Own_reference_is_the_average_of_five_strips_with_the_scatter_of_strips()
    {
        decimal[] reds = [0.44m, 0.45m, 0.46m, 0.47m, 0.48m];
        var strips = reds.Select(r => Some.Strip(
            [.. Some.C41.Layout.Patches.Select(p => Some.Reads(p.Key, Enumerable.Repeat(Some.Reading(r, 1.00m, 1.20m), 3)))])).ToList();
        var patches = OwnReference.Of(strips);
        var ld = Aims.Of(Some.Lot(), Some.Reference(patches)).Single(a => a is { PatchKey: "ld", Channel: Channel.Red });

        Assert.Equal(["dmin", "ld", "hd", "dmax", "yellow"], patches.Select(p => p.Patch.Key));
        Assert.All(patches, p => Assert.Equal(5, p.Reads.Length));
        Assert.Equal(0.46, ld.Value, 1e-12);
        Assert.Equal(Math.Sqrt(0.00025 / 5), ld.StandardUncertainty, 1e-9);
    }

    /// <summary>The test in force: reads of all the strips repeat to 0.003.</summary>
    private static readonly RepeatabilityInForce Test =
        new(Guid.CreateVersion7(Some.Time), [.. Channels.Colours.Select(c => new ChannelScatter(c, 0.003, 27))]);

    private static Crossover Of(params (decimal Old, decimal New)[] ldRed) =>
        Crossover.Of("1204", "1311", ldRed.Select(p => Pair(p.Old, p.New)), [.. NewAims]);

    private static (StripRecord Old, StripRecord New) Pair(decimal old, decimal young) => (
        Some.Strip(Some.Patches(Some.Moved(("ld", old, 0, 0)))) with { Repeatability = Test },
        Some.Strip(Some.Patches(Some.Moved(("ld", 0.10m + young, 0.10m, 0.10m)))) with { Repeatability = Test });

    private static CrossoverRow LdRed(Crossover crossover) => crossover.Rows.Single(r => r.Aim is { PatchKey: "ld", Channel: Channel.Red });
}

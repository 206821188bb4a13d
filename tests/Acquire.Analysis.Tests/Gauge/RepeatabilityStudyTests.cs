using Acquire.Analysis.Gauge;
using Acquire.Analysis.Tests.Statistics;

namespace Acquire.Analysis.Tests.Gauge;

public class RepeatabilityStudyTests
{
    [Theory]
    [InlineData('A', 1.0632, 2.98)]
    [InlineData('B', 1.4949, 4.19)]
    [InlineData('C', 2.7483, 7.70)]
    [InlineData('D', 2.6251, 7.35)]
    [InlineData('E', 3.9350, 11.02)]
    [Trait(
        "Source",
        "ASTM E691 glucose study as shipped with NIST Dataplot; s_r and r computed independently and, but for C, as in the standard's "
        + "table")]
    public void Pooled_scatter_of_the_glucose_study_is_its_repeatability(char material, double s, double limit)
    {
        var reads = PublishedReads.Glucose.Select((row, i) => PublishedReads.Red($"lab{row.Lab}", (i % 3) + 1, material switch
        {
            'A' => row.A, 'B' => row.B, 'C' => row.C, 'D' => row.D, _ => row.E,
        }));

        var pooled = RepeatabilityStudy.Of(new RepeatabilityData([.. reads]))[Channel.Red]!.Pooled;

        Assert.Equal(s, pooled.S, 0.00005);
        Assert.Equal(limit, pooled.RepeatabilityLimit, 0.005);
        Assert.Equal((24, 16), (pooled.Reads, pooled.DegreesOfFreedom));
    }

    [Fact]
    [Trait("Source", "NIST GEAR.DAT: s 0.006278908 (printed in single precision, 0.0062789049 computed independently), mean 0.99764, 95 "
        + "% 0.00551 to 0.00729")]
    public void Scatter_of_the_gear_diameters_has_the_published_interval()
    {
        var red = RepeatabilityStudy.Of(PublishedReads.Reds("gear", PublishedReads.Gears))[Channel.Red]!;

        Assert.Equal(0.0062789049, red.Pooled.S, 0.00000000005);
        Assert.Equal(0.00551, red.Pooled.SLow, 0.000005);
        Assert.Equal(0.00729, red.Pooled.SHigh, 0.000005);
        Assert.Equal(0.99764, red.Level, 0.000005);
        Assert.Equal((100, 99, 0.001), (red.Pooled.Reads, red.Pooled.DegreesOfFreedom, red.Pooled.Resolution));
        Assert.Equal(red.Pooled.S, red.Patches.Single().Scatter!.S);
    }

    [Fact]
    [Trait("Source", "USP 29, chapter 1010, runs as placements: within 0.10176, between runs 1.14940, one reading 1.25116")]
    public void Components_of_runs_are_the_published_ones()
    {
        decimal[][] runs =
        [
            [100.70m, 101.05m, 101.15m], [99.46m, 99.37m, 99.59m], [99.96m, 100.17m, 101.01m], [101.80m, 102.16m, 102.44m],
            [101.91m, 102.00m, 101.67m],
        ];
        var reads = runs.SelectMany((run, p) => run.Select((value, i) => PublishedReads.Red("ld", i + 1, value, p + 1)));

        var scatter = RepeatabilityStudy.Of(new RepeatabilityData([.. reads]))[Channel.Red]!.Pooled;

        Assert.Equal(0.10176, scatter.Components!.Within, 0.00001);
        Assert.Equal(1.14940, scatter.Components.Between, 0.00001);
        Assert.Equal(Math.Sqrt(1.25116), scatter.S, 0.00001);
        Assert.Equal(Math.Sqrt(0.10176), scatter.SWithin!.Value, 0.00005);
        Assert.Equal(Math.Sqrt(1.14940), scatter.SPlacement!.Value, 0.00005);
        // Satterthwaite by hand: 1.25116² / ((3.54997/3)²/4 + (0.10176 · 2/3)²/10) = 4.47
        Assert.Equal(4, scatter.DegreesOfFreedom);
    }

    [Fact]
    [Trait("Source", "GUM (JCGM 100:2008), F.2.2.1: rounding to steps of 0.01 makes 0.01/√12 = 0.0029")]
    public void Equal_repeats_let_the_resolution_speak()
    {
        var report = RepeatabilityStudy.Of(PublishedReads.Reds("ld", 0.46m, 0.46m, 0.46m));
        var pooled = report[Channel.Red]!.Pooled;

        Assert.Equal((0.0, 0.0), (pooled.S, pooled.SLow));
        Assert.Equal(0.01 / Math.Sqrt(12), pooled.Stated, 1e-15);
        Assert.Equal(2.8 * 0.01 / Math.Sqrt(12), pooled.RepeatabilityLimit, 1e-15);
        Assert.Equal(6.2847 * pooled.Stated, pooled.SHigh, 0.00005);
        Assert.True(pooled.AllEqual && pooled.ResolutionSpeaks);
        Assert.Equal(1, pooled.ResolutionShare);
        Assert.Contains(
            report.Notes,
            n => n.Contains("all repeats are equal", StringComparison.Ordinal) && n.Contains("0.0029", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(new[] { "0.46", "0.46", "0.46", "0.46", "0.47" }, 0.0044721, true)]
    [InlineData(new[] { "0.46", "0.46", "0.46", "0.47" }, 0.005, false)]
    [InlineData(new[] { "0.46", "0.47" }, 0.0070711, false)]
    [Trait("Source", "By hand")]
    public void Resolution_speaks_below_half_a_step(string[] values, double s, bool speaks)
    {
        var pooled = RepeatabilityStudy.Of(PublishedReads.Reds("ld", values.Select(Decimal)))[Channel.Red]!.Pooled;

        Assert.Equal(s, pooled.S, 0.00000005);
        Assert.Equal(s, pooled.Stated, 0.00000005);
        Assert.Equal(speaks, pooled.ResolutionSpeaks);
        Assert.Equal(0.0001 / 12 / (s * s), pooled.ResolutionShare, 0.0001);
    }

    [Fact]
    public void Resolution_is_that_of_the_read_with_the_most_decimals_unless_stated()
    {
        ImmutableArray<GaugeRead> reads = [PublishedReads.Red("ld", 1, 0.5m), PublishedReads.Red("ld", 2, 0.504m)];

        Assert.Equal(0.001, new RepeatabilityData(reads).StepOf(Channel.Red), 1e-15);
        Assert.Equal(0.01, new RepeatabilityData(reads, 0.01).StepOf(Channel.Red));
    }

    [Theory]
    [InlineData(13.97, 10, 17.56, 16.92, 0.0406, false)]
    [Trait("Source", "NIST/SEMATECH e-Handbook 7.2.3: 10 wafers, s = 13.97, claim 10 at most; p computed independently")]
    public void Specification_of_the_wafers_is_not_met(double s, double sigma, double chiSquare, double critical, double p, bool passes)
    {
        var test = SpecificationTest.Of(s, 9, sigma);

        Assert.Equal(chiSquare, test.ChiSquare, 0.005);
        Assert.Equal(critical, test.Critical, 0.005);
        Assert.Equal(p, test.P, 0.00005);
        Assert.Equal(passes, test.Passes);
    }

    [Fact]
    public void Specification_is_the_usual_one_where_the_user_states_none()
    {
        var data = PublishedReads.Reds("ld", 0.44m, 0.46m, 0.48m, 0.46m, 0.43m, 0.49m);

        var (usual, wide) = (RepeatabilityStudy.Of(data), RepeatabilityStudy.Of(data, RepeatabilitySpecification.Same(0.03)));

        Assert.Equal(0.010, usual[Channel.Red]!.Specification.Sigma);
        Assert.False(usual.Passes);
        Assert.Contains(usual.Notes, n => n.Contains("Clean the aperture", StringComparison.Ordinal));
        Assert.True(wide.Passes);
    }

    [Fact]
    public void Channel_never_repeated_is_left_out_and_named()
    {
        var visual = ImmutableDictionary<Channel, decimal>.Empty.Add(Channel.Visual, 0.7m).Add(Channel.Red, 0.46m);
        var report = RepeatabilityStudy.Of(new RepeatabilityData([new GaugeRead("ld", 1, visual), PublishedReads.Red("ld", 2, 0.47m)]));

        Assert.Equal([Channel.Red], report.Channels.Select(c => c.Channel));
        Assert.Contains(report.Notes, n => n.StartsWith("visual: no patch was read twice", StringComparison.Ordinal));
    }

    [Fact]
    public void Reads_of_one_placement_are_said_to_be_unmoved()
    {
        var reads = Enumerable.Range(1, 9).Select(i => PublishedReads.Red("ld", i, 0.46m + (i % 3 * 0.01m), 1));

        var report = RepeatabilityStudy.Of(new RepeatabilityData([.. reads]));

        Assert.Null(report[Channel.Red]!.Pooled.Components);
        Assert.Contains(report.Notes, n => n.Contains("without moving the film", StringComparison.Ordinal));
    }

    [Fact]
    public void Too_few_reads_are_refused_with_what_to_do()
    {
        var fault = Assert.Throws<GaugeException>(() =>
            RepeatabilityStudy.Of(new RepeatabilityData([PublishedReads.Red("dmin", 1, 0.26m), PublishedReads.Red("ld", 1, 0.46m)])));

        Assert.Contains("read each patch twice at least", fault.Message, StringComparison.Ordinal);
        Assert.Throws<GaugeException>(() => new RepeatabilityData([]));
        Assert.Throws<GaugeException>(() => new RepeatabilityData([PublishedReads.Red(" ", 1, 0.26m)]));
        Assert.Throws<GaugeException>(() => new RepeatabilityData([PublishedReads.Red("ld", 1, 0.26m)], 0));
        Assert.Throws<GaugeException>(() => RepeatabilitySpecification.Same(0));
    }

    [Fact]
    public void Few_reads_are_said_once_for_all_channels()
    {
        ImmutableDictionary<Channel, decimal> Of(decimal red, decimal green) =>
            ImmutableDictionary<Channel, decimal>.Empty.Add(Channel.Red, red).Add(Channel.Green, green);
        var colours = RepeatabilityStudy.Of(new RepeatabilityData(
            [new GaugeRead(
                "ld", 1, Of(0.45m, 0.86m)), new GaugeRead("ld", 2, Of(0.46m, 0.88m)), new GaugeRead("ld", 3, Of(0.44m, 0.86m))]));
        var one = RepeatabilityStudy.Of(PublishedReads.Reds("ld", 0.45m, 0.46m));

        var note = Assert.Single(colours.Notes, n => n.Contains("few", StringComparison.Ordinal));
        Assert.StartsWith(
            "red, green: 2 degrees of freedom are few; the true deviation may be anywhere from 0.0052 to 0.0628 in red, from 0.0060 to "
            + "0.0726 in green. Ten reads",
            note,
            StringComparison.Ordinal);
        Assert.StartsWith(
            "red: 1 degree of freedom is few; the true deviation may be anywhere from 0.0032 to 0.2256. Ten reads",
            Assert.Single(one.Notes, n => n.Contains("few", StringComparison.Ordinal)),
            StringComparison.Ordinal);
    }

    [Fact]
    public void Read_given_twice_is_refused_by_name()
    {
        var first = PublishedReads.Red("ld", 2, 0.26m, 1);

        var fault = Assert.Throws<GaugeException>(() =>
            new RepeatabilityData([first, first with { Placement = 2 }, PublishedReads.Red("LD", 2, 0.27m, 1)]));

        Assert.StartsWith("Read 2 of patch ld, placement 1 is given twice", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Pooled_scatter_lies_between_those_of_the_patches_and_has_all_their_freedom() =>
        Gen.Int[0, 100].Array[2, 12].Array[1, 6].Sample(patches =>
        {
            var reads = patches.SelectMany((values, p) => values.Select((v, i) => PublishedReads.Red($"p{p}", i + 1, v / 1000m)));
            var red = RepeatabilityStudy.Of(new RepeatabilityData([.. reads], 0.001))[Channel.Red]!;
            var scatters = red.Patches.Select(p => p.Scatter!).ToArray();
            Assert.InRange(red.Pooled.S, scatters.Min(s => s.S) - 1e-12, scatters.Max(s => s.S) + 1e-12);
            Assert.Equal(patches.Sum(p => p.Length - 1), red.Pooled.DegreesOfFreedom);
            Assert.True(red.Pooled.SLow <= red.Pooled.Stated && double.IsFinite(red.Pooled.SHigh));
        });

    [Fact]
    public void Placements_of_one_read_each_change_nothing() =>
        Gen.Int[0, 50].Array[2, 20].Sample(values =>
        {
            Scatter Study(bool placed) => RepeatabilityStudy.Of(new RepeatabilityData(
                [.. values.Select((v, i) => PublishedReads.Red("ld", i + 1, v / 100m, placed ? i : null))], 0.01))[Channel.Red]!.Pooled;
            Assert.Equal(Study(false), Study(true));
        });

    [Fact]
    [Trait("Source", "Simulation with known components: σ within 1 and of placing 1, so σ of a re-placed read is √2")]
    public void Interval_with_placements_holds_the_truth_about_as_often_as_it_promises()
    {
        var random = new Random(17);
        var held = Enumerable.Range(0, 2000).Count(_ =>
        {
            var reads = Enumerable.Range(0, 8).SelectMany(placement =>
            {
                var placed = random.Normal();
                return Enumerable.Range(1, 3).Select(i =>
                    PublishedReads.Red("ld", i, Math.Round((decimal)(placed + random.Normal()), 4), placement));
            });
            var pooled = RepeatabilityStudy.Of(new RepeatabilityData([.. reads]))[Channel.Red]!.Pooled;
            return pooled.SLow <= Math.Sqrt(2) && Math.Sqrt(2) <= pooled.SHigh;
        });

        Assert.InRange(held / 2000.0, 0.93, 0.985);
    }

    [Fact]
    public void Patch_that_scatters_more_than_the_others_is_named()
    {
        decimal[] quiet = [0.460m, 0.461m, 0.459m, 0.460m, 0.462m, 0.458m];
        var reads = new[] { "dmin", "ld", "hd" }.SelectMany(p => quiet.Select((v, i) => PublishedReads.Red(p, i + 1, v)));
        var loud = quiet.Select((v, i) => PublishedReads.Red("dmax", i + 1, 2 + (10 * v)));

        var (without, with) =
            (RepeatabilityStudy.Of(new RepeatabilityData([.. reads])), RepeatabilityStudy.Of(new RepeatabilityData([.. reads, .. loud])));

        Assert.DoesNotContain(without.Notes, n => n.Contains("scatters more", StringComparison.Ordinal));
        Assert.Contains(
            with.Notes, n => n.StartsWith("red: patch dmax scatters more (s = 0.0141) than the others (0.0014)", StringComparison.Ordinal));
    }

    private static decimal Decimal(string text) => decimal.Parse(text, System.Globalization.CultureInfo.InvariantCulture);
}

using Acquire.Analysis.Gauge;

namespace Acquire.Analysis.Tests.Gauge;

public class CrossedStudyTests
{
    private const string Manual =
        """
        0.29 -0.56 1.34 0.47 -0.80 0.02 0.59 -0.31 2.26 -1.36
        0.41 -0.68 1.17 0.50 -0.92 -0.11 0.75 -0.20 1.99 -1.25
        0.64 -0.58 1.27 0.64 -0.84 -0.21 0.66 -0.17 2.01 -1.31
        0.08 -0.47 1.19 0.01 -0.56 -0.20 0.47 -0.63 1.80 -1.68
        0.25 -1.22 0.94 1.03 -1.20 0.22 0.55 0.08 2.12 -1.62
        0.07 -0.68 1.34 0.20 -1.28 0.06 0.83 -0.34 2.19 -1.50
        0.04 -1.38 0.88 0.14 -1.46 -0.29 0.02 -0.46 1.77 -1.49
        -0.11 -1.13 1.09 0.20 -1.07 -0.67 0.01 -0.56 1.45 -1.77
        -0.15 -0.96 0.67 0.11 -1.45 -0.49 0.21 -0.49 1.87 -2.16
        """;

    /// <summary>Modules as rows, the three readings of each of three operators after each other.</summary>
    private const string Modules =
        """
        37 38 37 41 41 40 41 42 41
        42 41 43 42 42 42 43 42 43
        30 31 31 31 31 31 29 30 28
        42 43 42 43 43 43 42 42 42
        28 30 29 29 30 29 31 29 29
        42 42 43 45 45 45 44 46 45
        25 26 27 28 28 30 29 27 27
        40 40 40 43 42 42 43 43 41
        25 25 25 27 29 28 26 26 26
        35 34 34 35 35 34 35 34 35
        """;

    [Fact]
    [Trait("Source", "Measurement Systems Analysis reference manual, 4th edition, 2010, ch. III B, analysis of variance of ten parts, "
        + "three "
        + "appraisers, three trials: readings and results are values from memory; the four sums of squares prove the readings")]
    public void Handbook_example_comes_out_with_and_without_the_interaction()
    {
        var channel = CrossedStudy.Of(ManualReads(), new RepeatabilitySpecification()).Channels.Single();

        var full = channel.Full.Effects.ToDictionary(e => e.Factors);
        Assert.Equal(
            (88.3619, 3.1673, 0.3590, 2.7589),
            (Four(full[1].Row.SumOfSquares), Four(full[2].Row.SumOfSquares), Four(full[3].Row.SumOfSquares),
                Four(channel.Full.Residual.SumOfSquares)));
        Assert.Equal([9, 2, 18], [.. channel.Full.Effects.Select(e => e.Row.DegreesOfFreedom)]);
        Assert.Equal(60, channel.Full.Residual.DegreesOfFreedom);
        Assert.Equal(0.434, full[3].F!.Value, 5e-4);

        // The interaction is pooled: ν 78, mean square 0.03997.
        Assert.Equal([1, 2], [.. channel.Used.Effects.Select(e => e.Factors)]);
        Assert.Equal((78, 0.039973), (channel.Used.Residual.DegreesOfFreedom, Math.Round(channel.Used.Residual.MeanSquare!.Value, 6)));
        Assert.Equal(channel.Additive.Residual, channel.Used.Residual);
        Assert.Equal(0.199933, channel[PartKind.Repeatability].Sigma, 5e-6);
        Assert.Equal(0.226838, channel[PartKind.Reproducibility].Sigma, 5e-6);
        Assert.Equal(0.302373, channel[PartKind.Gauge].Sigma, 5e-6);
        Assert.Equal(1.042327, channel[PartKind.Patch].Sigma, 5e-6);
        Assert.Equal(0.184, channel[PartKind.Repeatability].ShareOfVariation!.Value, 5e-4);
        Assert.Equal(0.209, channel[PartKind.Reproducibility].ShareOfVariation!.Value, 5e-4);
        Assert.Equal(0.279, channel[PartKind.Gauge].ShareOfVariation!.Value, 5e-4);
        Assert.Equal(0.960, channel[PartKind.Patch].ShareOfVariation!.Value, 5e-4);
        Assert.Equal(4, channel.DistinctCategories);
        // Ten parts and three appraisers tell it no better than so; shares and number hold their own estimates.
        Assert.InRange(4, channel.Categories!.Value.Low, channel.Categories.Value.High);
        Assert.True(channel.Categories.Value is { Low: <= 2, High: >= 5 });
        Assert.All(channel.Parts.Where(p => p.Kind != PartKind.Total), p =>
        {
            Assert.InRange(p.ShareOfVariation!.Value, p.ShareInterval!.Value.Low, p.ShareInterval.Value.High);
            Assert.True(p.ShareInterval.Value is { Low: >= 0, High: <= 1 } and var (low, high) && high - low > 0.005);
        });
    }

    [Fact]
    [Trait("Source", "M. Houf and D. B. Berman, IEEE Trans. Components, Hybrids, Manuf. Technol. 11, 1988: thermal performance of ten "
        + "modules, "
        + "three operators, three readings; mean squares and components as quoted by R. K. Burdick, C. M. Borror and D. C. Montgomery, "
        + "J. Quality Technol. 35, 2003, values from memory")]
    public void Interaction_that_is_more_than_chance_stays_a_component()
    {
        var channel = CrossedStudy.Of(ModuleReads(), new RepeatabilitySpecification(), tolerance: 40).Channels.Single();

        var (parts, effects) = (channel.Parts, channel.Used.Effects.ToDictionary(e => e.Factors));
        Assert.Equal((437.33, 19.63, 2.70, 0.51), (
            Two(effects[1].Row.MeanSquare), Two(effects[2].Row.MeanSquare), Two(effects[3].Row.MeanSquare),
            Two(channel.Used.Residual.MeanSquare)));
        Assert.Equal(0, effects[3].P!.Value, 1e-5);
        Assert.Equal((48.29, 0.56, 0.73), (
            Two(effects[1].Component.Value), Two(effects[2].Component.Value), Two(effects[3].Component.Value)));
        Assert.Equal(1.80, Two(channel[PartKind.Gauge].Variance));
        // Precision to tolerance, 6 σ over 58 − 18.
        Assert.Equal(6 * Math.Sqrt(channel[PartKind.Gauge].Variance) / 40, channel[PartKind.Gauge].ShareOfTolerance!.Value, 1e-12);
        Assert.All(parts, p => Assert.InRange(p.Sigma, p.Low, p.High));
    }

    [Fact]
    public void Person_and_instrument_are_told_apart_by_three_factors()
    {
        // By hand, no scatter of reads but ±0.01: patch 0.2 and 1.0, person 0 and +0.04, instrument 0 and −0.02.
        var reads = (from p in new[] { 0, 1 }
                     from who in new[] { 0, 1 }
                     from tool in new[] { 0, 1 }
                     from sign in new[] { -1, 1 }
                     select Read($"p{p}", $"w{who}", $"i{tool}", 0.2m + (0.8m * p) + (0.04m * who) - (0.02m * tool) + (0.01m * sign)))
            .ToImmutableArray();
        var channel = CrossedStudy.Of(CrossedData.Of(reads)!, new RepeatabilitySpecification()).Channels.Single();

        // A main effect d between two levels has SS = N (d/2)²; nothing else varies.
        var squares = channel.Full.Effects.ToDictionary(e => e.Factors, e => e.Row.SumOfSquares);
        Assert.Equal(16 * 0.16, squares[1], 1e-12);
        Assert.Equal(16 * 0.0004, squares[2], 1e-12);
        Assert.Equal(16 * 0.0001, squares[4], 1e-12);
        Assert.All((int[])[3, 5, 6, 7], e => Assert.Equal(0, squares[e], 1e-12));
        Assert.Equal(16 * 0.0001, channel.Full.Residual.SumOfSquares, 1e-12);
        Assert.Equal([1, 2, 4], [.. channel.Used.Effects.Select(e => e.Factors)]);
        Assert.Equal(12, channel.Used.Residual.DegreesOfFreedom);
        Assert.Equal((0.0064 - (0.0016 / 12)) / 8, channel.Used.Effects[1].Component.Value, 1e-12);
    }

    [Fact]
    public void Persons_with_an_instrument_each_are_one_factor_and_that_is_said()
    {
        var data = CrossedData.Of(
        [
            .. from p in new[] { "a", "b" }
               from who in new[] { "1", "2" }
               from v in new[] { 0.20m, 0.21m }
               select Read(p, $"person {who}", $"instrument {who}", v),
        ])!;

        Assert.Equal(["patch", "person with instrument"], data.Factors);
        Assert.Contains(data.Notes, n => n.Contains("cannot be told apart", StringComparison.Ordinal));
    }

    [Fact]
    public void One_person_on_one_instrument_is_no_crossed_study() =>
        Assert.Null(CrossedData.Of([Read("a", "me", "it", 0.2m), Read("b", "me", "it", 0.3m), Read("b", null, "it", 0.3m)]));

    [Theory]
    [InlineData("a:x a:x b:x b:x a:y a:y b:y", "patch b, person y: 1 read, where others have 2")]
    [InlineData("a:x a:x b:x b:x a:y a:y", "patch b, person y: no read")]
    [InlineData("a:x a:x a:y a:y", "All reads are of one patch")]
    [InlineData("a:x b:x a:y b:y", "twice at least")]
    [InlineData("a:x a:x b:x b:x a:y a:y b:y b:", "read 8: person is empty")]
    public void Unequal_reads_are_refused_with_what_is_missing(string reads, string said)
    {
        ImmutableArray<CrossedRead> all =
            [.. reads.Split(' ').Select((r, i) => Read(
                r[..1], r.Length > 2 ? r[2..] : null, null, 0.2m) with { Place = $"read {i + 1}" })];

        Assert.Contains(said, Assert.Throws<GaugeException>(() => CrossedData.Of(all)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Difference_of_two_patches_does_not_suffer_from_what_a_person_adds_to_both()
    {
        var reads = (from p in Enumerable.Range(0, 4)
                     from who in Enumerable.Range(0, 3)
                     from n in Enumerable.Range(0, 2)
                     select Read($"p{p}", $"w{who}", null, 0.2m + (0.3m * p) + (0.05m * who) + (0.002m * ((p + n) % 2))))
            .ToImmutableArray();
        var sheet = Acquire.Formats.ProcessSheets.ShippedSheets.All.First(s => s.Key == "c41");
        var channel = CrossedStudy.Of(CrossedData.Of(reads)!, new RepeatabilitySpecification(), sheet).Channels.Single();

        var (patch, difference) = (
            channel.Limits.First(l => l.Parameter.Match(_ => true, _ => false, _ => false, _ => false)),
            channel.Limits.First(l => l.Parameter.Match(_ => false, _ => true, _ => false, _ => false)));
        Assert.Equal(channel[PartKind.Gauge].Sigma, patch.Sigma, 1e-12);
        Assert.True(difference.Sigma < patch.Sigma / 5, $"{difference.Sigma} against {patch.Sigma}");
    }

    private static CrossedData ManualReads() => CrossedData.Of(
    [
        .. Manual.Split('\n').SelectMany((row, i) => row.Trim().Split(' ').Select((v, part) => Read($"{part}", $"{i / 3}", null, v))),
    ])!;

    private static CrossedData ModuleReads() => CrossedData.Of(
    [
        .. Modules.Split('\n').SelectMany((row, part) => row.Trim().Split(' ').Select((v, i) => Read($"{part}", $"{i / 3}", null, v))),
    ])!;

    private static CrossedRead Read(string patch, string? person, string? instrument, string value) =>
        Read(patch, person, instrument, decimal.Parse(value, CultureInfo.InvariantCulture));

    private static CrossedRead Read(string patch, string? person, string? instrument, decimal value) => new(
        "here", patch, person, instrument, null, ImmutableSortedDictionary<Channel, decimal>.Empty.Add(Channel.Red, value));

    private static double Four(double value) => Math.Round(value, 4);

    private static double Two(double? value) => Math.Round(value!.Value, 2);
}

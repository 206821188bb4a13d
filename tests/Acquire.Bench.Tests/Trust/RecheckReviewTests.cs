using Acquire.Analysis.Gauge;
using Acquire.Bench.Trust;

namespace Acquire.Bench.Tests.Trust;

public sealed class RecheckReviewTests
{
    /// <summary>
    /// P(X ≤ k) reaches 0.95 at: n = 3: 0.9928 for 1; n = 5: 0.9774 for 1; n = 15: 0.9638 for 2; n = 20: 0.9841 for 3 (0.9245 for 2).
    /// </summary>
    [Theory]
    [Trait("Source", "Binomial distribution, p = 0.05, as in any table of it; values from memory, recomputed")]
    [InlineData(1, 1)]
    [InlineData(5, 2)]
    public void LeftByChance_is_the_binomial_quantile(int patches, int most)
    {
        var review = RecheckReview.Of(Reference(patches, 0.50m), [Again(patches, 1, 0.50m), Again(patches, 2, 0.50m)]);

        Assert.Equal(patches * 3, review.Series.Length);
        Assert.Equal(most, review.LeftByChance);
    }

    [Fact]
    public void Instrument_that_stays_holds_and_one_that_moves_does_not()
    {
        decimal[] usual = [0.50m, 0.51m, 0.50m, 0.49m, 0.50m];
        var first = Reference(5, 0.50m);
        var again = usual.Select((d, i) => Again(5, i + 1, d)).ToList();
        Assert.True(RecheckReview.Of(first, again).Holds);

        var moved = RecheckReview.Of(first, [.. again, Again(5, 9, 0.55m)]);
        Assert.False(moved.Holds);
        Assert.Equal(15, moved.Outside);
        Assert.All(moved.Series, s => Assert.Equal(0.05, RecheckReview.Moved(s), 1e-12));
        Assert.All(moved.Series, s => Assert.Equal(6, s.Chart.Baseline));
    }

    [Fact]
    public void Later_occasions_than_the_tenth_make_no_limits()
    {
        var again = Enumerable.Range(1, 14).Select(i => Again(1, i, i < 10 ? 0.50m : 0.60m)).ToList();
        var review = RecheckReview.Of(Reference(1, 0.50m), again);

        Assert.All(review.Series, s => Assert.Equal((10, 15), (s.Chart.Baseline, s.Chart.Points.Length)));
        Assert.All(review.Series, s => Assert.Equal(5, s.Chart.Points.Count(p => p.MeanOutside)));
    }

    [Fact]
    public void Equal_readings_are_held_apart_by_the_display_step()
    {
        var review = RecheckReview.Of(Reference(1, 0.50m), [Again(1, 1, 0.50m), Again(1, 2, 0.50m), Again(1, 3, 0.51m)]);

        Assert.True(review.Holds);
    }

    [Fact]
    public void What_was_read_before_the_reference_in_force_does_not_count_and_too_few_are_refused()
    {
        var fault = Assert.Throws<GaugeException>(() => RecheckReview.Of(Reference(1, 0.50m), [Again(1, -1, 0.50m)]));
        Assert.Contains("not read again yet", fault.Message, StringComparison.Ordinal);
    }

    /// <summary>Two instruments read one strip differently without either having moved.</summary>
    [Fact]
    public void Instrument_is_held_against_itself_and_never_against_another()
    {
        var first = Reference(5, 0.50m, "bench");
        ReferenceRecheck[] again = [Again(5, 1, 0.50m, "bench"), Again(5, 2, 0.50m, "bench"), Again(5, 3, 0.58m, "twin")];

        var begins = RecheckReview.Of(first, again);
        Assert.Equal("twin", begins.BeginsWith);
        Assert.True(begins.Holds);
        Assert.Empty(begins.Series);

        var stays = RecheckReview.Of(first, [.. again, Again(5, 4, 0.58m, "Twin")]);
        Assert.True(stays.Holds);
        Assert.All(stays.Series, s => Assert.Equal((2, 0), (s.Chart.Points.Length, (int)Math.Round(RecheckReview.Moved(s) * 1000))));

        Assert.False(RecheckReview.Of(first, [.. again, Again(5, 4, 0.58m, "bench")]).Holds);
    }

    private static LotReference Reference(int patches, decimal density, string? instrument = null) => new(
        Guid.NewGuid(),
        "4410", Patches(patches, density), By(Some.Moment, instrument), Revision.First("staff", Some.Moment, "read"));

    private static ReferenceRecheck Again(int patches, int day, decimal density, string? instrument = null) =>
        new(Guid.NewGuid(), "4410", Patches(patches, density), By(Some.Moment.AddDays(day), instrument));

    private static Provenance By(DateTimeOffset at, string? instrument) => new(
        at, "staff", instrument is null ? null : new InstrumentInUse("labelled-line", "h", "port") { Name = instrument });

    private static System.Collections.Immutable.ImmutableArray<PatchReads> Patches(int count, decimal density) =>
    [
        .. Enumerable.Range(1, count).Select(i => i.ToString(CultureInfo.InvariantCulture)).Select(k => new PatchReads(
            new Patch("p" + k, "P" + k), [new PatchRead(Reading.Entered(ChannelDensities.Rgb(density, density, density), Some.Moment))])),
    ];
}

using Acquire.Analysis.Gauge;
using Acquire.Analysis.StripWork;
using Acquire.Analysis.Tests.Judgement;

namespace Acquire.Analysis.Tests.StripWork;

public class InstrumentPastTests
{
    private static readonly InstrumentInUse Bench = new("bench", new string('a', 64), "scripted");

    /// <summary>Day 1 a test of an instrument that repeats well; day 5 one after which it scatters more.</summary>
    [Fact]
    public void Test_begins_a_new_era_and_the_first_counts_for_what_was_read_before_it()
    {
        var past = new InstrumentPast([Test(1, 0.004m), Test(5, 0.02m)], [], [], [], []);
        double At(double day) => past.Of("bench", Some.Time.AddDays(day)).At(Channel.Red, 0.45).StandardDeviation;

        Assert.Equal(At(2), At(-10), 1e-15);
        Assert.True(At(6) > 2 * At(2));
        Assert.True(past.Of("other", Some.Time).At(Channel.Red, 0.45).IsAssumed);
        Assert.False(past.Of("bench", Some.Time).At(Channel.Red, 0.45).IsAssumed);
    }

    /// <summary>Two instruments of one family share a profile and nothing else; one instrument is the same in any case.</summary>
    [Fact]
    public void Test_of_one_instrument_says_nothing_of_its_twin()
    {
        var past = new InstrumentPast([Test(1, 0.004m, Bench with { Name = "desk" })], [], [], [], []);

        Assert.False(past.Of("DESK", Some.Time).At(Channel.Red, 0.45).IsAssumed);
        Assert.True(past.Of("twin", Some.Time).At(Channel.Red, 0.45).IsAssumed);
        Assert.True(past.Of(Bench.Profile, Some.Time).At(Channel.Red, 0.45).IsAssumed);
        var inForce = new TestsInForce([Test(1, 0.004m, Bench with { Name = "desk" })]);
        Assert.NotNull(inForce.Until(Some.Time.AddDays(2), "Desk"));
        Assert.Null(inForce.Until(Some.Time.AddDays(2), "twin"));
    }

    [Fact]
    public void Repeats_of_references_rechecks_and_strips_count_and_an_average_of_strips_does_not()
    {
        PatchReads reads = Some.Reds("ld", 0.45m, 0.46m, 0.47m);
        var provenance = new Provenance(Some.Time, "staff", Bench);
        var read = new LotReference(Guid.CreateVersion7(), "1204", [reads], provenance, Revision.First("staff", Some.Time, "read"));
        var baseline = new LotReference(Guid.CreateVersion7(), "1311", [reads], provenance, Revision.First("staff", Some.Time, "read"))
        {
            BaselineStrips = [Guid.CreateVersion7()],
        };
        var again = new ReferenceRecheck(Guid.CreateVersion7(), "1204", [reads], provenance with { At = Some.Time.AddDays(1) });
        var past = new InstrumentPast(
            [], [read, baseline], [again], [], [new StripRepeats("bench", 0, new PatchRepeats(Channel.Red, 0.5, 0.01, 4))]);

        Assert.Equal(2 + 2 + 4, past.Of("bench", Some.Time).OwnFreedom(Channel.Red));
    }

    [Fact]
    [Trait("Source", "By hand: steps of 0.01 and −0.03 from day to day")]
    public void Thinnest_patch_is_followed_from_day_to_day()
    {
        var strips = new[] { 0m, 0.01m, -0.02m }
            .Select((moved, i) => Some.Strip(Some.Patches(Some.Moved(("dmin", moved, moved, moved)))) with
        {
            Provenance = new Provenance(Some.Time.AddDays(i), "staff", Bench),
        });

        var patch = Assert.Single(ThinnestPatch.Of(strips));

        Assert.Equal(("bench", 3, 2), (patch.Instrument, patch.Channels, patch.Pairs));
        Assert.Equal(0.0001 + 0.0009, patch.Squares, 1e-12);
    }

    [Fact]
    public void Zero_seen_from_day_to_day_takes_the_place_of_the_assumption()
    {
        ImmutableArray<ThinnestPatch> days = [new("bench", 0.5, 3, 1, 0.01, 60, 60 * 2 * 0.0004)];
        var past = new InstrumentPast([Test(1, 0.004m)], [], [], [], []) { Days = days };

        Assert.False(past.ZeroOf("bench").IsAssumed);
        Assert.InRange(past.ZeroOf("bench").StandardUncertainty, 0.018, 0.020);
        Assert.True(past.ZeroOf("other").IsAssumed);
    }

    private static RepeatabilityTest Test(double day, decimal apart, InstrumentInUse? instrument = null) => new(
        Guid.CreateVersion7(),
        [new PatchReads(Some.C41.Layout.GetByKey("ld"), [.. Enumerable.Range(0, 12).Select(i => new PatchRead(new Reading(
            new ChannelDensities(new Density(0.450m + (apart * (i % 2))), null, null), Some.Time, [])))])],
        1, 0.010, true, new Provenance(Some.Time.AddDays(day), "staff", instrument ?? Bench));
}

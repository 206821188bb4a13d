using Acquire.Analysis.Gauge;
using Acquire.Analysis.StripWork;
using Acquire.Analysis.Tests.Judgement;

namespace Acquire.Analysis.Tests.StripWork;

public class LotPastTests
{
    private static readonly DateTimeOffset Day = Some.Reference(Some.Patches(Some.Densities)).Revision.At;

    private static readonly StripLot Lot = Some.Lot();

    /// <summary>Day 0 the first reference, day 2 its crossover, day 4 another reference.</summary>
    [Fact]
    public void Aims_are_those_of_the_reference_and_the_crossover_in_force_at_the_moment()
    {
        var (first, second) = (Reference(0, 0.40m), Reference(4, 0.43m));
        var adjustment = new AimAdjustment(
            Guid.CreateVersion7(), Lot.Code, first.Id, "1111", [new AdjustedAim(
                "ld", Channel.Red, 0.05, 0.004)], [new StripPair(Guid.NewGuid(), Guid.NewGuid())],
            "staff", Day.AddDays(2), "three pairs");
        var past = new LotPast(Lot, [first, second], [adjustment], new TestsInForce([]));
        double At(double day) => past.At(Day.AddDays(day)).Aims.Single().Value - Lot.Correction("ld", Channel.Red);

        Assert.Equal(0.40, At(-30), 1e-9);
        Assert.Equal(0.40, At(1), 1e-9);
        Assert.Equal(0.45, At(2), 1e-9);
        Assert.Equal(0.43, At(5), 1e-9);
        Assert.Equal(second, past.Newest.Reference);
        Assert.Null(past.Newest.Adjustment);
        Assert.Equal(adjustment, past.At(Day.AddDays(9), (first.Id, 1)).Adjustment);
        Assert.Throws<ImpossibleValueException>(() => past.At(Day, (first.Id, 2)));
    }

    /// <summary>
    /// The uncertainty of an aim rests on the test of its instrument that was in force then, also where the reference itself came later.
    /// </summary>
    [Fact]
    public void Test_of_the_reference_s_instrument_counts_from_its_day_on()
    {
        var used = new InstrumentInUse("labelled-line", new string('a', 64), "scripted");
        var (early, late, other) = (Test(1, used, 0.02m), Test(3, used, 0.06m), Test(2, used with { Profile = "plain-columns" }, 0.02m));
        var past = new LotPast(Lot, [Reference(2, 0.40m, used)], [], new TestsInForce([early, other, late]));

        Assert.Equal(early.Id, past.At(Day.AddDays(2)).Repeatability?.TestId);
        Assert.Equal(late.Id, past.At(Day.AddDays(3)).Repeatability?.TestId);
        Assert.Equal(early.Id, past.At(Day).Repeatability?.TestId);
        Assert.True(past.At(Day.AddDays(3)).Aims[0].StandardUncertainty > past.At(Day.AddDays(2)).Aims[0].StandardUncertainty);
    }

    [Fact]
    public void Lot_without_a_reference_has_no_aims() =>
        Assert.Equal(AimsInForce.None, new LotPast(Lot, [], [], new TestsInForce([])).At(Day));

    private static LotReference Reference(double day, decimal red, InstrumentInUse? used = null) => new(
        Guid.CreateVersion7(),
        Lot.Code,
        [Some.Reds("ld", red)],
        new Provenance(Day.AddDays(day), "staff", used),
        Revision.First("staff", Day.AddDays(day), "read"));

    private static RepeatabilityTest Test(double day, InstrumentInUse used, decimal apart) => new(
        Guid.CreateVersion7(), [Some.Reds("ld", 0.40m, 0.40m + apart, 0.40m, 0.40m + apart, 0.40m)],
        1, 0.010, true, new Provenance(Day.AddDays(day), "staff", used));
}

using Acquire.Analysis.Causes;

namespace Acquire.Analysis.Tests.Causes;

public class TreatmentTestTests
{
    private static readonly NaturalScatter None = new(0, 0);

    [Theory]
    [InlineData("retained-silver", null, Treatment.ReBleach, TestOutcome.BorneOut)]
    [InlineData("retained-silver", "retained-silver", Treatment.ReBleach, TestOutcome.RuledOut)]
    [InlineData("leuco-cyan", null, Treatment.ReBleach, TestOutcome.BorneOut)]
    [InlineData("fixer-exhausted", null, Treatment.ReFix, TestOutcome.BorneOut)]
    [InlineData("fixer-exhausted", "fixer-exhausted", Treatment.ReFix, TestOutcome.RuledOut)]
    public void Fault_that_the_treatment_mends_is_told_by_what_came_back(
        string fault, string? after, Treatment treatment, TestOutcome outcome) =>
        Assert.Equal(outcome, Tests(fault, after, treatment).Single(t => t.Fault.Key == fault).Outcome);

    [Fact]
    public void Another_fault_that_came_back_is_not_taken_for_it()
    {
        var tests = Tests("leuco-cyan", null, Treatment.ReBleach).ToDictionary(t => t.Fault.Key);

        Assert.Equal(TestOutcome.RuledOut, tests["retained-silver"].Outcome);
        Assert.NotEqual(TestOutcome.BorneOut, tests["fixer-exhausted"].Outcome);
    }

    [Fact]
    public void Half_that_came_back_is_measured()
    {
        var first = FaultyStrips.With(KnownFault.Of("retained-silver"), 1, new Random(1), scatter: None);
        var again = FaultyStrips.With(
            KnownFault.Of("retained-silver"), 0.5, new Random(2), scatter: None) with { Tags = After(Treatment.ReBleach) };
        var test = TreatmentTest.Of(first, again).Single(t => t.Fault.Key == "retained-silver");

        Assert.Equal((1.0, 0.5), (Math.Round(test.Before, 1), Math.Round(test.CameBack, 1)));
        Assert.Equal(TestOutcome.BorneOut, test.Outcome);
    }

    [Theory]
    [InlineData(Treatment.None)]
    [InlineData(Treatment.Drying)]
    public void Treatment_that_mends_no_fault_tests_none(Treatment treatment) => Assert.Empty(Tests("retained-silver", null, treatment));

    [Fact]
    public void Fault_that_was_borne_out_needs_no_test_any_more_and_comes_first()
    {
        var strip = FaultyStrips.With(KnownFault.Of("retained-silver"), 0.6, new Random(3));
        var study = CauseStudy.Of(strip, new CauseContext { BorneOut = ["retained-silver"] });

        Assert.Equal("retained-silver", study.Ranked.First().Of.Key);
        Assert.DoesNotContain(study.Steps, s => s.StartsWith("Bleach and fix", StringComparison.Ordinal));
        Assert.Contains(study.Steps, s => s.StartsWith("Retained silver is borne out; look for the reason: ", StringComparison.Ordinal));
    }

    private static ImmutableArray<TreatmentTest> Tests(string fault, string? after, Treatment treatment) => TreatmentTest.Of(
        FaultyStrips.With(KnownFault.Of(fault), 1, new Random(1), scatter: None),
        FaultyStrips.With(
            after is null ? null : KnownFault.Of(after),
            after is null ? 0 : 1,
            new Random(2),
            scatter: None) with { Tags = After(treatment) });

    private static StripTags After(Treatment treatment) => new() { Reread = new Reread(Guid.CreateVersion7(), treatment) };
}

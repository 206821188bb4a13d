using Acquire.Analysis.StripWork;
using Acquire.Analysis.Tests.Judgement;

namespace Acquire.Analysis.Tests.StripWork;

/// <summary>
/// That bleaching and fixing again removes retained silver and silver halide: a film maker's theory page on reversal processing.
/// </summary>
public sealed class SecondReadingTests
{
    private static readonly Treatment[] All = Enum.GetValues<Treatment>();

    [Fact]
    public void Retained_silver_that_bleaching_takes_out_speaks_for_the_bleach_and_not_more()
    {
        var reading = Read(Treatment.ReBleach, before: 0.14m, after: 0.02m);
        var words = reading.Words().ToList();

        Assert.Equal("silver", Assert.Single(reading.CameBack).First.Parameter.Key);
        Assert.Contains(words, w => w.StartsWith("D-max B − yellow B came back by 0.120 ± 0.033", StringComparison.Ordinal));
        Assert.Contains("That speaks for the bleach", words[^1], StringComparison.Ordinal);
        Assert.Contains("fixer is not ruled out", words[^1], StringComparison.Ordinal);
    }

    [Fact]
    public void Parameter_that_stays_clears_the_bath()
    {
        var reading = Read(Treatment.ReBleach, before: 0.14m, after: 0.14m);

        Assert.Empty(reading.CameBack);
        Assert.Contains("elsewhere than in bleach and fixer", reading.Words().Last(), StringComparison.Ordinal);
    }

    [Fact]
    public void Parameter_that_moves_away_has_not_come_back()
    {
        var reading = Read(Treatment.ReFix, before: 0.14m, after: 0.18m);

        Assert.Empty(reading.CameBack);
        Assert.Contains("moved +0.040", string.Join(' ', reading.Words()), StringComparison.Ordinal);
        Assert.Contains("elsewhere than in the fixer", reading.Words().Last(), StringComparison.Ordinal);
    }

    [Fact]
    public void Parameter_that_came_back_in_part_is_told_to_be_out_still() =>
        Assert.Contains(
            "still past a limit", Read(Treatment.ReBleach, before: 0.30m, after: 0.15m).Words().First(), StringComparison.Ordinal);

    [Fact]
    public void Change_within_reading_noise_is_no_finding()
    {
        // One read each of an instrument of which nothing is known; the difference of two patches twice: 0.01 is less than u.
        var reading = Read(Treatment.ReBleach, before: 0.14m, after: 0.13m);

        Assert.Empty(reading.CameBack);
        Assert.NotEmpty(reading.Stayed);
    }

    [Fact]
    public void Reading_of_a_strip_that_was_in_says_so() =>
        Assert.Contains(
            "Nothing lay past a limit before",
            Assert.Single(Read(Treatment.Drying, before: 0, after: 0).Words()),
            StringComparison.Ordinal);

    [Fact]
    public void Every_treatment_has_its_own_words() =>
        Assert.Equal(All.Length, All.Select(t => Read(t, 0.14m, 0.02m).Words().Last()).Distinct().Count());

    [Fact]
    public void Reading_of_another_lot_is_refused()
    {
        var first = Strip(0);
        var other = new StripRecord(
            Guid.CreateVersion7(),
            "9", first.Layout, first.JudgedBy, first.Patches, first.Means, first.Aims, first.Provenance, first.Revision);

        Assert.Throws<ImpossibleValueException>(() => SecondReading.Of(first, other));
    }

    private static SecondReading Read(Treatment treatment, decimal before, decimal after)
    {
        var first = Strip(before);
        return SecondReading.Of(first, Strip(after) with { Tags = new StripTags { Reread = new Reread(first.Id, treatment) } });
    }

    private static StripRecord Strip(decimal silver) => Some.Strip(Some.Patches(Some.Moved(("dmax", 0, 0, silver))));
}

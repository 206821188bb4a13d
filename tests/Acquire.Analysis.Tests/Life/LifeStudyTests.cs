using Acquire.Analysis.Control;
using Acquire.Analysis.Judgement;
using Acquire.Analysis.Life;
using Acquire.Analysis.Statistics;
using Acquire.Analysis.Tests.Statistics;
using Acquire.Formats.ProcessSheets;

namespace Acquire.Analysis.Tests.Life;

public class LifeStudyTests
{
    private static readonly ProcessSheet Sheet = ShippedSheets.All.Single(s => s.Key == "c41");
    private static readonly DifferenceParameter Contrast =
        Sheet.Parameters.OfType<DifferenceParameter>().First(p => p.Limits.Action is { Lower: < 0 });

    [Fact]
    public void Developer_that_ages_has_a_life_a_cause_and_a_next_strip()
    {
        var study = LifeStudy.Of(Strips(4, -0.003), Sheet);

        Assert.True(study.Governing is { IsTold: true });
        Assert.InRange(23.3, study.Whole!.Days!.Lower, study.Whole.Days.Upper);
        var sentence = LifeWords.HowLong(study, "a developer kept in full bottles");
        Assert.Contains("a developer kept in full bottles lasts about ", sentence, StringComparison.OrdinalIgnoreCase);
        Assert.Contains($"{Contrast.Name} ", sentence, StringComparison.Ordinal);
        Assert.Contains("16 strips of 4 bottles", sentence, StringComparison.Ordinal);
        Assert.Contains("age, 1 to 25 days", LifeWords.WhatChangedMost(study), StringComparison.Ordinal);
        Assert.Matches("One more strip at about day [0-9]+ would bring the interval to [0-9]+ %", LifeWords.NextStrip(study));
    }

    [Fact]
    public void Developer_that_does_not_age_gets_at_least_and_no_life()
    {
        var study = LifeStudy.Of(Strips(2, 0), Sheet);

        Assert.Null(study.Governing);
        Assert.Contains("Not enough evidence", LifeWords.HowLong(study, "the developer"), StringComparison.Ordinal);
        Assert.Contains("At least ", LifeWords.HowLong(study, "the developer"), StringComparison.Ordinal);
        Assert.StartsWith("Nothing has a clear effect", LifeWords.WhatChangedMost(study), StringComparison.Ordinal);
    }

    [Fact]
    public void Less_than_a_day_is_told_as_too_little_evidence()
    {
        var study = LifeStudy.Of(Strips(2, 0, start: 0.060), Sheet);

        Assert.True(study.Leading is { OutsideFromStart: null, AtLeastDays: < 1, HoldsAWhile: false });
        Assert.Contains(
            $" Nor do they tell how long {study.Leading!.Name} stays inside its limit.",
            LifeWords.HowLong(study, "the developer"),
            StringComparison.Ordinal);
        Assert.DoesNotContain("At least", LifeWords.HowLong(study, "the developer"), StringComparison.Ordinal);
        Assert.Equal($"not enough evidence, {study.Leading.Name} least of all.", LifeWords.Briefly(study));
    }

    /// <summary>Four strips with the same density lie on any model; they scatter by what reading them makes all the same.</summary>
    [Theory]
    [InlineData(0)]
    [InlineData(0.005)]
    public void Strips_that_lie_exactly_on_a_line_give_an_answer(double reading)
    {
        var strips = Strips(1, 0).Select(s => s with
        {
            Judgement = s.Judgement with
            {
                Results = [.. s.Judgement.Results.Select(r => r with { Deviation = 0.01, LeastReadingUncertainty = reading })],
            },
        }).ToList();

        var study = LifeStudy.Of(strips, Sheet);

        Assert.All(study.Answers, a => Assert.Equal(reading, a.Model!.ResidualDeviation, 1e-12));
        Assert.Null(study.Governing);
        Assert.All(study.Answers, a => Assert.True(double.IsFinite(a.Slope!.Value.Margin)));
        Assert.True(BottleStanding.Of(study, "D1", 10).InsideProbability > 0.9);
    }

    [Fact]
    public void Bottle_stands_where_its_strips_and_the_others_put_it()
    {
        var study = LifeStudy.Of(Strips(4, -0.003), Sheet);

        var young = BottleStanding.Of(study, "D1", 5);
        var old = BottleStanding.Of(study, "D1", 40);

        Assert.True(young.InsideProbability > 0.99 && young.DaysLeft!.Estimate > 10);
        Assert.True(old.InsideProbability < 0.05);
        Assert.Contains("passed its limit", LifeWords.Standing(old), StringComparison.Ordinal);
        Assert.Contains("to go (95 %", LifeWords.Standing(young), StringComparison.Ordinal);
        Assert.DoesNotContain("safe", LifeWords.Standing(young), StringComparison.OrdinalIgnoreCase);
    }

    /// <summary>No bottle gets the answer of another way of keeping without a word.</summary>
    [Fact]
    public void Bottle_of_unknown_or_unseen_storage_is_told_what_it_is_reckoned_by()
    {
        var strips = Strips(4, -0.003).Select(s => s with { Storage = s.Bottle == "D4" ? "glass, part full" : "glass, full" }).ToList();
        var study = LifeStudy.Of(strips, Sheet);
        var (own, unknown, unseen) = (
            BottleStanding.Of(
                study, "D9", 10, "glass, full"), BottleStanding.Of(study, "D9", 10), BottleStanding.Of(study, "D9", 10, "bag"));

        Assert.Equal((null, null), (own.ReckonedAs, own.UnseenStorage));
        Assert.Equal(("glass, full", null, own.Deviation), (unknown.ReckonedAs, unknown.UnseenStorage, unknown.Deviation));
        Assert.Contains("reckoned as kept glass, full", LifeWords.Standing(unknown), StringComparison.Ordinal);
        Assert.Equal((null, "bag"), (unseen.Worst, unseen.UnseenStorage));
        Assert.Contains("no strip ran in a bottle kept bag", LifeWords.Standing(unseen), StringComparison.Ordinal);
        // Most strips in bottles of which nothing is told: then the answer is of those, and a bottle told nothing of is one of them.
        var untold = LifeStudy.Of([.. strips.Select(s => s.Bottle == "D4" ? s : s with { Storage = null })], Sheet);
        Assert.Equal("not told", untold.Reckoned);
        Assert.Null(BottleStanding.Of(untold, "D9", 10).ReckonedAs);
    }

    [Theory]
    [InlineData(-0.003)]
    [InlineData(-0.0024)]
    public void Interval_wider_than_that_of_its_own_row_says_why(double slope)
    {
        var study = LifeStudy.Of(Strips(4, slope), Sheet);
        var (whole, alone) = (study.Whole!.Days!, study.Governing!.Days!);

        Assert.Equal(
            Math.Round(whole.Lower) < Math.Round(alone.Lower),
            LifeWords.HowLong(study, "the developer").Contains("; another may get to its limit first.", StringComparison.Ordinal));
        Assert.True(whole.Lower <= alone.Lower + 1e-9);
    }

    [Fact]
    public void Parameter_past_its_limit_from_the_start_gets_no_life()
    {
        var study = LifeStudy.Of(Strips(4, -0.003, start: -0.09), Sheet);

        Assert.Null(study.Governing);
        Assert.All(study.Answers, a => Assert.True(a is { OutsideFromStart: < -0.07, Days: null, AtLeastDays: 0 }));
        Assert.Contains("with the youngest strips already, at -0.09", LifeWords.HowLong(study, "the developer"), StringComparison.Ordinal);

        // Coming back to aim is no life either, though a line through it reaches the other side one day.
        Assert.Null(LifeStudy.Of(Strips(4, 0.003, start: -0.09), Sheet).Governing);
    }

    [Fact]
    public void What_lies_far_beyond_the_oldest_strip_is_said()
    {
        var study = LifeStudy.Of(Strips(4, -0.002), Sheet);

        Assert.Contains(study.Governing!.Doubts, d => d.Contains("The oldest strip was run at 25 days", StringComparison.Ordinal));
        Assert.Contains(
            "No strip was run at such an age, the oldest at 25 days.",
            LifeWords.Standing(BottleStanding.Of(study, "D1", 50)),
            StringComparison.Ordinal);
        Assert.DoesNotContain("No strip was run", LifeWords.Standing(BottleStanding.Of(study, "D1", 20)), StringComparison.Ordinal);
    }

    [Fact]
    public void Lots_are_no_effect_of_the_users()
    {
        var strips = Strips(4, 0).Select((s, i) => s with { Lot = i % 2 == 0 ? "2417" : "2502" }).ToList();
        var moved = strips.Select(s => s with
        {
            Judgement = s.Judgement with { Results = [.. s.Judgement.Results.Select(
                r => r with { Deviation = r.Deviation + (s.Lot == "2502" ? 0.05 : 0) })] },
        }).ToList();
        var study = LifeStudy.Of(moved, Sheet);

        Assert.Contains(study.Answers[0].Effects, e => e is { IsNuisance: true, IsClear: true });
        Assert.StartsWith("Nothing has a clear effect", LifeWords.WhatChangedMost(study), StringComparison.Ordinal);
    }

    [Fact]
    public void Strips_of_unknown_age_are_counted_and_left_out()
    {
        var strips = Strips(2, -0.003).Select((s, i) => i < 3 ? s with { AgeDays = null } : s).ToList();

        Assert.Equal(3, LifeStudy.Of(strips, Sheet).WithoutAge);
    }

    [Fact]
    public void One_strip_or_none_is_a_clear_refusal()
    {
        Assert.Contains("Nothing can be told", LifeWords.HowLong(LifeStudy.Of([], Sheet), "the developer"), StringComparison.Ordinal);
        Assert.Contains(
            "needs 4 at least", LifeWords.HowLong(LifeStudy.Of([Strips(1, 0)[0]], Sheet), "the developer"), StringComparison.Ordinal);
        Assert.Contains(
            "too few strips", LifeWords.Standing(BottleStanding.Of(LifeStudy.Of([], Sheet), "D1", 3)), StringComparison.Ordinal);
    }

    private static ImmutableArray<StripPoint> Strips(int bottles, double slope, double start = 0)
    {
        var random = new Random(31);
        return
        [
            .. from bottle in Enumerable.Range(0, bottles)
               from age in new[] { 1, 9, 17, 25 }
               select new StripPoint
               {
                   StripId = Guid.NewGuid(),
                   At = new DateTimeOffset(2026, 1, 1, 19, 0, 0, TimeSpan.Zero).AddDays((30 * bottle) + age),
                   Lot = "2417",
                   Bottle = $"D{bottle + 1}",
                   Storage = "glass, full",
                   AgeDays = age,
                   Judgement = new StripJudgement(
                       [
                           .. Channels.Colours.Select(c => new ParameterResult
                           {
                               Parameter = Contrast, Channel =
                                   c, Deviation = start + (slope * age) + (0.008 * random.Normal()), StandardUncertainty = 0.005,
                           }),
                       ],
                       ImmutableDictionary<Channel, PooledDeviation>.Empty),
               },
        ];
    }
}

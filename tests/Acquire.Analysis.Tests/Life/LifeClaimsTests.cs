using Acquire.Analysis.Control;
using Acquire.Analysis.Judgement;
using Acquire.Analysis.Life;
using Acquire.Analysis.Statistics;
using Acquire.Analysis.Tests.Statistics;
using Acquire.Formats.ProcessSheets;

namespace Acquire.Analysis.Tests.Life;

/// <summary>Nothing is claimed of a solution that its strips have not seen. Invented numbers.</summary>
[Trait("speed", "slow")]
public class LifeClaimsTests
{
    private static readonly ProcessSheet Sheet = ShippedSheets.Get("c41");

    [Fact]
    public void Solution_that_does_not_age_is_hardly_ever_given_a_life()
    {
        var named = Enumerable.Range(0, 60).Count(seed => Study(seed, 2, [1, 7, 14, 21, 28], (_, _) => 0).Whole!.Days is not null);

        Assert.InRange(named, 0, 6);
    }

    [Fact]
    public void Whatever_the_strips_nothing_is_promised_beyond_the_oldest()
    {
        Gen.Select(Gen.Int[0, 10_000], Gen.Double[-0.006, 0.006], Gen.Double[0, 0.03], Gen.Int[4, 9]).Sample(
            (seed, slope, aim, strips) =>
            {
                double[] ages = [.. Enumerable.Range(0, strips).Select(i => 2.0 + (3 * i))];
                var study = Study(seed, 1, ages, (key, age) => key == "contrast" ? slope * age : 0, aim);
                var whole = study.Whole!;
                Assert.InRange(whole.AtLeastDays, 0, whole.OldestAge);
                Assert.All(study.Answers, a => Assert.InRange(a.AtLeastDays!.Value, 0, a.OldestAge!.Value));
                if (whole.Days is { } days)
                {
                    Assert.True(days.Lower <= days.Estimate && days.Estimate <= days.Upper && double.IsFinite(days.Upper));
                    Assert.Equal(days.Upper > whole.OldestAge, whole.IsBeyond);
                    Assert.Equal(
                        whole.IsBeyond,
                        LifeWords.HowLong(study, "the developer").StartsWith("If it goes on like this, ", StringComparison.Ordinal));
                }
            },
            iter: 40, threads: 1);
    }

    [Fact]
    public void Developer_that_falls_after_day_30_is_promised_no_more_than_was_seen()
    {
        var study = Study(3, 3, [1, 6, 11, 17, 22, 28], (key, age) => key == "contrast" ? -0.07 * Math.Max(0, age - 30) / 11.7 : 0);

        Assert.Equal((28.0, null), (study.Whole!.OldestAge, study.Whole.Days));
        Assert.InRange(study.Whole.AtLeastDays, 20, 28);
        Assert.Contains(
            "the oldest was run at 28 days, and no strip has seen what comes later.", LifeWords.HowLong(study, "the developer"),
            StringComparison.Ordinal);
    }

    [Fact]
    public void Bend_that_the_strips_have_seen_is_taken_in()
    {
        var study = Study(
            5, 4, [1, 10, 20, 30, 36, 42], (key, age) => key == "contrast" ? -0.07 * Math.Max(0, age - 26) / 14 : 0, scatter: 0.004);

        Assert.Equal(LifeBend.Hinge, study.Governing!.Curve!.Likeliest.Shape.Bend);
        Assert.InRange(40, study.Whole!.Days!.Lower, study.Whole.Days.Upper);
        Assert.Contains(study.Governing.Doubts, d => d.Contains("The way to the limit bends", StringComparison.Ordinal));
    }

    [Fact]
    public void Error_of_the_aims_counts_however_many_strips_there_are()
    {
        static LifeSpan Span(double aim) => Study(8, 6, [1, 8, 15, 22, 29], (_, age) => -0.0028 * age, aim).Whole!.Days!;

        var (exact, rough) = (Span(0), Span(0.01));

        // An aim that may be wrong by 0.01 moves the day of the limit by 0.01/0.0028, some 3.6 days, either way.
        Assert.True(rough.Upper - rough.Lower > exact.Upper - exact.Lower + (2 * 3.6));
    }

    [Theory]
    [InlineData(SolutionKind.Developer, false)]
    [InlineData(SolutionKind.Bleach, true)]
    public void Retained_silver_has_a_say_in_the_life_of_a_bleach_only(SolutionKind kind, bool votes)
    {
        var study = Study(2, 3, [1, 8, 15, 22, 29], (key, age) => key == "silver" ? 0.004 * age : 0, kind: kind);

        Assert.Equal(votes, study.Answers.Single(a => a.Key.ParameterKey == "silver").Votes);
        Assert.Equal(votes ? "silver" : null, study.Governing?.Key.ParameterKey);
    }

    [Fact]
    public void Move_away_from_a_one_sided_limit_is_no_share_of_it()
    {
        var study = Study(2, 3, [1, 8, 15, 22, 29], (key, age) => key == "dmin" ? -0.001 * age : 0);

        var answer = study.Answers.First(a => a.Key.ParameterKey == "dmin");
        Assert.Null(answer.Effects.Single(e => e.Factor == "age").LimitShare);
        Assert.Null(answer.Leaves);
        Assert.EndsWith("it moves away from its only limit.", LifeWords.WhatChangedMost(study), StringComparison.Ordinal);
    }

    [Fact]
    public void Change_at_once_is_no_ageing_and_is_said()
    {
        double[] ages = [1, 4, 7, 10, 13, 16, 19, 22, 25, 28];
        var study = Study(4, 1, ages, (key, age) => key == "contrast" && age > 14 ? -0.05 : 0, scatter: 0.004);

        Assert.Null(study.Whole!.Days);
        Assert.Contains(study.Answers, a => a.Jump is { IsLikelier: true });
        Assert.Matches("changed at once, between 2026-01-14 and 2026-01-17", LifeWords.HowLong(study, "the developer"));
    }

    private static LifeStudy Study(
        int seed, int bottles, double[] ages, Func<string, double, double> moved, double aim = 0.003, double scatter = 0.008,
        SolutionKind kind = SolutionKind.Developer)
    {
        var random = new Random(seed);
        List<StripPoint> strips =
        [
            .. from bottle in Enumerable.Range(0, bottles)
               from age in ages
               select new StripPoint
               {
                   StripId = Guid.NewGuid(),
                   At = new DateTimeOffset(2026, 1, 1, 19, 0, 0, TimeSpan.Zero).AddDays((50 * bottle) + age),
                   Lot = "2417",
                   Bottle = $"D{bottle + 1}",
                   AgeDays = age,
                   Judgement = new StripJudgement(
                       [.. Sheet.Parameters.Where(p => p.HasSign).SelectMany(p => p.Lines.Select(c => new ParameterResult
                       {
                           Parameter = p,
                           Channel = c,
                           Deviation = moved(p.Key, age) + (scatter / (p.Key == "dmin" ? 2 : 1) * random.Normal()),
                           LeastReadingUncertainty = 0.003,
                           AimUncertainty = aim,
                       }))],
                       ImmutableDictionary<Channel, PooledDeviation>.Empty),
               },
        ];
        return LifeStudy.Of(strips, Sheet, kind: kind);
    }
}

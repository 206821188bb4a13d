using Acquire.Analysis.Life;
using Acquire.Analysis.Statistics;
using Acquire.Bench.Life;

namespace Acquire.Rendering.Life;

/// <summary>The life of a kind of solution for other programs: every number of the text, and its sentences.</summary>
internal static class LifeJson
{
    public static object Of(SolutionLife life) => new
    {
        Process = life.History.Sheet.Key,
        life.Seen.Kind,
        life.Storage,
        life.Study.Storages,
        Words = new[]
        {
            LifeWords.HowLong(
                life.Study, life.What), LifeWords.Rolls(life.Study), LifeWords.WhatChangedMost(life.Study), LifeWords.NextStrip(life.Study),
        }.Where(w => w.Length > 0),
        Governing = life.Study.Governing?.Name,
        Answers = life.Study.Answers.Select(Answer),
        ByStorage = life.ByStorage.Select(
            s => new { s.Storage, Words = LifeWords.Briefly(s.Study), Leading = s.Study.Leading is { } leading ? Answer(leading) : null }),
        Bottles = life.Bottles.Select(b => new
        {
            b.Bottle,
            b.AgeDays,
            Parameter = b.Worst?.Key.ParameterKey,
            Channel = b.Worst?.Key.Channel?.Word(),
            Deviation = b.Worst is null ? null : (double?)b.Deviation,
            Uncertainty = b.Worst is null ? null : (double?)b.StandardUncertainty,
            InsideProbability = b.Worst is null ? null : (double?)b.InsideProbability,
            DaysLeft = Interval(b.DaysLeft),
            Words = LifeWords.Standing(b),
        }),
        Comparisons = life.Comparisons.Select(c => new
        {
            c.Factor,
            Differences = c.Differences.Select(Effect),
            c.See,
            c.Sigma,
            c.IsOfBottles,
            c.StripsOfEach,
            c.WhyNot,
            Words = LifeWords.Comparison(c, life.Study.Leading!),
        }),
        LeftOut = new
        {
            life.Study.WithoutAge,
            life.Seen.WithoutSuch,
            life.Seen.Sudden,
            life.History.OfOtherProcesses,
            RereadOrWithoutAims = life.History.LeftOut,
        },
        Note = SolutionLife.Last,
    };

    private static object Answer(LifeAnswer answer) => new
    {
        Key = answer.Key.ParameterKey,
        Channel = answer.Key.Channel?.Word(),
        answer.Name,
        answer.Strips,
        answer.Bottles,
        Limit = new { answer.Limit.Lower, answer.Limit.Upper, answer.Limit.Source },
        SlopePerDay = answer.Slope?.Value,
        SlopeMargin = answer.Slope?.Margin,
        answer.Leaves,
        answer.IsTold,
        Days = answer.IsTold ? Interval(answer.Days) : null,
        answer.AtLeastDays,
        answer.OutsideFromStart,
        RollsPerLitre = answer.Area is var (estimate, lower, upper)
            ? new { Estimate = estimate / FilmFormat.Roll, Lower = lower / FilmFormat.Roll, Upper = upper / FilmFormat.Roll }
            : null,
        AreaPerDay = answer.Use.IsKnown ? (double?)answer.Use.PerDay : null,
        answer.Model?.ResidualDeviation,
        BottleRatio = answer.Model?.Fit.Ratio,
        answer.Next,
        Effects = answer.Effects.Select(Effect),
        Outlying = answer.Model?.Outlying,
        answer.Doubts,
        answer.Refusal,
    };

    private static object Effect(LifeEffect effect) => new
    {
        effect.Name, effect.Factor, effect.Level, effect.Against, effect.Size, effect.Margin, effect.P, effect.LimitShare,
        effect.IsClear, effect.IsNuisance,
    };

    private static object? Interval(RatioInterval? days) =>
        days is { Kind: RatioKind.Bounded } ? new { days.Estimate, days.Lower, days.Upper } : null;
}

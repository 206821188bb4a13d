using Acquire.Analysis.Judgement;
using Acquire.Analysis.Life;
using Acquire.Bench.Life;

namespace Acquire.Web.Documents;

/// <summary>The life of a kind of solution for other programs: every number of the text, and its sentences.</summary>
internal static class LifeJson
{
    public static LifeDocument Of(SolutionLife life) => new()
    {
        Process = life.History.Sheet.Key,
        Kind = life.Seen.Kind,
        Storage = life.Storage,
        Storages = life.Study.Storages,
        Words = new[]
        {
            LifeWords.HowLong(life.Study, life.What),
            LifeWords.Rolls(life.Study),
            LifeWords.WhatChangedMost(life.Study),
            LifeWords.NextStrip(life.Study),
        }.Where(w => w.Length > 0),
        Governing = life.Study.Governing?.Name,
        Whole = life.Study.Whole is { } whole ? Whole(whole) : null,
        Answers = life.Study.Answers.Select(Answer),
        ByStorage = life.ByStorage.Select(s => new LifeByStorageDocument
        {
            Storage = s.Storage,
            Words = LifeWords.Briefly(s.Study),
            Whole = s.Study.Whole is { } of ? Whole(of) : null,
            Leading = s.Study.Leading is { } leading ? Answer(leading) : null,
        }),
        Bottles = life.Bottles.Select(b => new LifeBottleDocument
        {
            Bottle = b.Bottle,
            AgeDays = b.AgeDays,
            Parameter = b.Worst?.Key.ParameterKey,
            Channel = b.Worst?.Key.Channel?.Word(),
            Deviation = b.Worst is null ? null : (double?)b.Deviation,
            Uncertainty = b.Worst is null ? null : (double?)b.StandardUncertainty,
            InsideProbability = b.Worst is null ? null : (double?)b.InsideProbability,
            DaysLeft = b.DaysLeft,
            Words = LifeWords.Standing(b),
        }),
        Comparisons = life.Comparisons.Select(c => new LifeComparisonDocument
        {
            Factor = c.Factor,
            Differences = c.Differences.Select(Effect),
            See = c.See,
            Sigma = c.Sigma,
            IsOfBottles = c.IsOfBottles,
            StripsOfEach = c.StripsOfEach,
            WhyNot = c.WhyNot,
            Words = LifeWords.Comparison(c, life.Study.Leading!),
        }),
        LeftOut = new LifeLeftOutDocument
        {
            WithoutAge = life.Study.WithoutAge,
            WithoutSuch = life.Seen.WithoutSuch,
            Sudden = life.Seen.Sudden,
            OfOtherProcesses = life.History.OfOtherProcesses,
            RereadOrWithoutAims = life.History.LeftOut,
        },
        Note = SolutionLife.Last,
    };

    private static LifeWholeDocument Whole(LifeWhole whole) => new()
    {
        By = whole.By?.Name,
        Days = whole.Days,
        OnlyIfItGoesOn = whole.IsBeyond,
        AtLeastDays = whole.AtLeastDays,
        OldestAgeDays = whole.OldestAge,
    };

    private static LifeAnswerDocument Answer(LifeAnswer answer) => new()
    {
        Key = answer.Key.ParameterKey,
        Channel = answer.Key.Channel?.Word(),
        Name = answer.Name,
        Strips = answer.Strips,
        Bottles = answer.Bottles,
        Limit = new LifeAnswerLimitDocument { Lower = answer.Limit.Lower, Upper = answer.Limit.Upper, Source = answer.Limit.Source },
        SlopePerDay = answer.Slope?.Value,
        SlopeMargin = answer.Slope?.Margin,
        Leaves = answer.Leaves,
        IsTold = answer.IsTold,
        Votes = answer.Votes,
        Days = answer.Days,
        OnlyIfItGoesOn = answer.IsBeyond,
        OldestAgeDays = answer.OldestAge,
        Way = answer.Curve?.Likeliest is var (shape, probability)
            ? new LifeAnswerWayDocument { Bend = shape.Bend, Days = shape.Days, Word = shape.Word, Probability = probability }
            : null,
        Jump = answer.Jump,
        RestsOn = AssumptionWords.Rests(answer.RestsOnAssumption),
        AtLeastDays = answer.AtLeastDays,
        OutsideFromStart = answer.OutsideFromStart,
        RollsPerLitre = answer.Area is var (estimate, lower, upper)
            ? new LifeAnswerRollsPerLitreDocument
            {
                Estimate = estimate / FilmFormat.Roll,
                Lower = lower / FilmFormat.Roll,
                Upper = upper / FilmFormat.Roll,
            }
            : null,
        AreaPerDay = answer.Use.IsKnown ? (double?)answer.Use.PerDay : null,
        ResidualDeviation = answer.Model?.ResidualDeviation,
        BottleRatio = answer.Model?.Fit.Ratio,
        Next = answer.Next,
        Effects = answer.Effects.Select(Effect),
        Outlying = answer.Model?.Outlying,
        Doubts = answer.Doubts,
        Refusal = answer.Refusal,
    };

    private static LifeEffectDocument Effect(LifeEffect effect) => new()
    {
        Name = effect.Name,
        Factor = effect.Factor,
        Level = effect.Level,
        Against = effect.Against,
        Size = effect.Size,
        Margin = effect.Margin,
        P = effect.P,
        LimitShare = effect.LimitShare,
        IsClear = effect.IsClear,
        IsNuisance = effect.IsNuisance,
    };
}

internal sealed record LifeDocument
{
    public required string Process { get; init; }
    public required SolutionKind Kind { get; init; }
    public required string? Storage { get; init; }
    public required ImmutableArray<string> Storages { get; init; }
    public required IEnumerable<string> Words { get; init; }
    public required string? Governing { get; init; }
    public required LifeWholeDocument? Whole { get; init; }
    public required IEnumerable<LifeAnswerDocument> Answers { get; init; }
    public required IEnumerable<LifeByStorageDocument> ByStorage { get; init; }
    public required IEnumerable<LifeBottleDocument> Bottles { get; init; }
    public required IEnumerable<LifeComparisonDocument> Comparisons { get; init; }
    public required LifeLeftOutDocument LeftOut { get; init; }
    public required string Note { get; init; }
}

internal sealed record LifeByStorageDocument
{
    public required string Storage { get; init; }
    public required string Words { get; init; }
    public required LifeWholeDocument? Whole { get; init; }
    public required LifeAnswerDocument? Leading { get; init; }
}

internal sealed record LifeBottleDocument
{
    public required string Bottle { get; init; }
    public required double AgeDays { get; init; }
    public required string? Parameter { get; init; }
    public required string? Channel { get; init; }
    public required double? Deviation { get; init; }
    public required double? Uncertainty { get; init; }
    public required double? InsideProbability { get; init; }
    public required LifeSpan? DaysLeft { get; init; }
    public required string Words { get; init; }
}

internal sealed record LifeComparisonDocument
{
    public required string Factor { get; init; }
    public required IEnumerable<LifeEffectDocument> Differences { get; init; }
    public required double See { get; init; }
    public required double Sigma { get; init; }
    public required bool IsOfBottles { get; init; }
    public required int? StripsOfEach { get; init; }
    public required string? WhyNot { get; init; }
    public required string Words { get; init; }
}

internal sealed record LifeLeftOutDocument
{
    public required int WithoutAge { get; init; }
    public required int WithoutSuch { get; init; }
    public required int Sudden { get; init; }
    public required int OfOtherProcesses { get; init; }
    public required int RereadOrWithoutAims { get; init; }
}

internal sealed record LifeWholeDocument
{
    public required string? By { get; init; }
    public required LifeSpan? Days { get; init; }
    public required bool OnlyIfItGoesOn { get; init; }
    public required double AtLeastDays { get; init; }
    public required double OldestAgeDays { get; init; }
}

internal sealed record LifeAnswerDocument
{
    public required string Key { get; init; }
    public required string? Channel { get; init; }
    public required string Name { get; init; }
    public required int Strips { get; init; }
    public required int Bottles { get; init; }
    public required LifeAnswerLimitDocument Limit { get; init; }
    public required double? SlopePerDay { get; init; }
    public required double? SlopeMargin { get; init; }
    public required double? Leaves { get; init; }
    public required bool IsTold { get; init; }
    public required bool Votes { get; init; }
    public required LifeSpan? Days { get; init; }
    public required bool OnlyIfItGoesOn { get; init; }
    public required double? OldestAgeDays { get; init; }
    public required LifeAnswerWayDocument? Way { get; init; }
    public required LifeJump? Jump { get; init; }
    public required string? RestsOn { get; init; }
    public required double? AtLeastDays { get; init; }
    public required double? OutsideFromStart { get; init; }
    public required LifeAnswerRollsPerLitreDocument? RollsPerLitre { get; init; }
    public required double? AreaPerDay { get; init; }
    public required double? ResidualDeviation { get; init; }
    public required double? BottleRatio { get; init; }
    public required NextStrip? Next { get; init; }
    public required IEnumerable<LifeEffectDocument> Effects { get; init; }
    public required ImmutableArray<Guid>? Outlying { get; init; }
    public required ImmutableArray<string> Doubts { get; init; }
    public required string? Refusal { get; init; }
}

internal sealed record LifeAnswerLimitDocument
{
    public required double? Lower { get; init; }
    public required double? Upper { get; init; }
    public required string Source { get; init; }
}

internal sealed record LifeAnswerWayDocument
{
    public required LifeBend Bend { get; init; }
    public required double Days { get; init; }
    public required string Word { get; init; }
    public required double Probability { get; init; }
}

internal sealed record LifeAnswerRollsPerLitreDocument
{
    public required double Estimate { get; init; }
    public required double Lower { get; init; }
    public required double Upper { get; init; }
}

internal sealed record LifeEffectDocument
{
    public required string Name { get; init; }
    public required string Factor { get; init; }
    public required string? Level { get; init; }
    public required string? Against { get; init; }
    public required double Size { get; init; }
    public required double Margin { get; init; }
    public required double? P { get; init; }
    public required double? LimitShare { get; init; }
    public required bool IsClear { get; init; }
    public required bool IsNuisance { get; init; }
}

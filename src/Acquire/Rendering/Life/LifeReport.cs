using Acquire.Analysis.Judgement;
using Acquire.Analysis.Life;
using Acquire.Bench.Life;

namespace Acquire.Rendering.Life;

/// <summary>The life of a kind of solution at the terminal: the answers first, then what they rest on.</summary>
internal static class LifeText
{
    public static void Write(IAnsiConsole console, SolutionLife life)
    {
        var study = life.Study;
        string[] sentences =
        [
            LifeWords.HowLong(study, life.What),
            LifeWords.Rolls(study),
            .. life.ByStorage.Select(s => $"{Numbers.Capital(s.Storage)}: {LifeWords.Briefly(s.Study)}"),
            LifeWords.WhatChangedMost(study),
            LifeWords.NextStrip(study),
        ];
        Sentences(console, sentences.Where(s => s.Length > 0));
        Section(console, life.Bottles.Select(LifeWords.Standing));
        console.WriteTable(Lives(study));
        Sentences(console, study.Answers.SelectMany(a => a.Doubts.Select(d => (Doubt: d, a.Name))).GroupBy(d => d.Doubt)
            .Select(g => g.Count() == study.Answers.Length ? g.Key : $"{string.Join(", ", g.Select(d => d.Name))}: {g.Key}"));
        if (study.Leading is { Effects.IsEmpty: false } leading)
        {
            console.Line("");
            console.Line($"Effects on {leading.Name}, the largest first:");
            console.WriteTable(Effects(leading));
        }

        Sentences(console, life.Comparisons.Select(c => LifeWords.Comparison(c, study.Leading!)));
        Section(console, life.LeftOut().Append(SolutionLife.Last));
    }

    private static Table Lives(LifeStudy study)
    {
        var table = Tables.New("parameter", "strips", "bottles", "in 10 days", "limit", "days (95 %)");
        foreach (var answer in study.Answers)
        {
            table.Row(
                answer.Name,
                answer.Strips.ToString(CultureInfo.InvariantCulture),
                answer.Bottles.ToString(CultureInfo.InvariantCulture),
                answer.Slope is var (slope, margin)
                    ? string.Create(CultureInfo.InvariantCulture, $"{Numbers.Deviation(10 * slope)}±{10 * margin:0.000}")
                    : "not told",
                answer.Limit.ToString(),
                Days(answer));
        }

        return table;
    }

    private static string Days(LifeAnswer answer) => answer switch
    {
        { Days: { } days, IsTold: true } =>
            string.Create(CultureInfo.InvariantCulture, $"{days.Estimate:0} ({Math.Max(0, days.Lower):0} to {days.Upper:0})")
            + (answer.IsBeyond ? " if it goes on" : ""),
        { OutsideFromStart: not null } => "outside",
        { AtLeastDays: { } least, HoldsAWhile: true } => string.Create(CultureInfo.InvariantCulture, $"at least {least:0}"),
        _ => "not told",
    };

    private static Table Effects(LifeAnswer answer)
    {
        var table = Tables.New("effect", "change", "of the limit");
        table.Columns[0].NoWrap = false;
        foreach (var effect in answer.Effects)
        {
            table.Row(
                effect.Name + (effect.IsNuisance ? " (error of the aims)" : ""),
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{Numbers.Deviation(effect.Size)} ±{effect.Margin:0.000}{(effect.IsClear ? "" : " unclear")}"),
                effect.LimitShare is { } share ? string.Create(CultureInfo.InvariantCulture, $"{share * 100:0} %") : "");
        }

        return table;
    }

    private static void Section(IAnsiConsole console, IEnumerable<string> sentences)
    {
        var all = sentences.ToList();
        if (all.Count > 0)
        {
            console.Line("");
            Sentences(console, all);
        }
    }

    private static void Sentences(IAnsiConsole console, IEnumerable<string> sentences)
    {
        foreach (var sentence in sentences)
        {
            console.Paragraph("", sentence);
        }
    }
}

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
        Whole = life.Study.Whole is { } whole ? Whole(whole) : null,
        Answers = life.Study.Answers.Select(Answer),
        ByStorage = life.ByStorage.Select(
            s => new { s.Storage, Words = LifeWords.Briefly(s.Study), Whole = s.Study.Whole is { } of
                ? Whole(of)
                : null, Leading = s.Study.Leading is { } leading ? Answer(leading) : null }),
        Bottles = life.Bottles.Select(b => new
        {
            b.Bottle,
            b.AgeDays,
            Parameter = b.Worst?.Key.ParameterKey,
            Channel = b.Worst?.Key.Channel?.Word(),
            Deviation = b.Worst is null ? null : (double?)b.Deviation,
            Uncertainty = b.Worst is null ? null : (double?)b.StandardUncertainty,
            InsideProbability = b.Worst is null ? null : (double?)b.InsideProbability,
            b.DaysLeft,
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

    private static object Whole(LifeWhole whole) => new
    {
        By = whole.By?.Name, whole.Days, OnlyIfItGoesOn = whole.IsBeyond, whole.AtLeastDays, OldestAgeDays = whole.OldestAge,
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
        answer.Votes,
        answer.Days,
        OnlyIfItGoesOn = answer.IsBeyond,
        OldestAgeDays = answer.OldestAge,
        Way = answer.Curve?.Likeliest is var (shape, probability) ? new { shape.Bend, shape.Days, shape.Word, probability } : null,
        answer.Jump,
        RestsOn = AssumptionWords.Rests(answer.RestsOnAssumption),
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
}

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

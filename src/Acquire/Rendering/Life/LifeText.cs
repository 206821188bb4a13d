using Acquire.Analysis.Life;
using Acquire.Bench.Books;
using Acquire.Bench.Life;

namespace Acquire.Rendering.Life;

/// <summary>The life of a kind of solution at the terminal: the answers first, then what they rest on.</summary>
internal static class LifeText
{
    public const string Last = "By control strips only: the next strip overrules all of it, and nothing is said of how a solution may be handled.";

    public static void Write(IAnsiConsole console, SolutionLife life)
    {
        var study = life.Study;
        string[] sentences =
        [
            LifeWords.HowLong(study, What(life)),
            LifeWords.Rolls(study),
            .. life.ByStorage.Select(s => $"{Capital(s.Storage)}: {LifeWords.Briefly(s.Study)}"),
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
        Section(console, LeftOut(life).Append(Last));
    }

    /// <summary>The solution and how it is kept.</summary>
    public static string What(SolutionLife life) =>
        $"the {EntryText.Word(life.Seen.Kind)}{(life.Storage is { } storage ? $" kept {storage}" : life.ByStorage.IsEmpty ? "" : $" kept {life.ByStorage[0].Storage}")}";

    /// <summary>What the answers do not rest on, a sentence each.</summary>
    public static IEnumerable<string> LeftOut(SolutionLife life)
    {
        if (life.Study.WithoutAge > 0)
        {
            yield return $"{Numbers.Count(life.Study.WithoutAge, "strip")} left out: the books do not tell the age of what they ran in.";
        }

        if (life.Seen.Sudden > 0)
        {
            yield return $"{Numbers.Count(life.Seen.Sudden, "strip")} left out: past a control limit with a second strip run beside, so something sudden had happened.";
        }

        if (life.Seen.WithoutSuch > 0)
        {
            yield return $"{Numbers.Count(life.Seen.WithoutSuch, "strip")} left out: none of the bottles entered with them holds {EntryText.Word(life.Seen.Kind)}.";
        }

        if (life.History.OfOtherProcesses > 0)
        {
            yield return $"{Numbers.Count(life.History.OfOtherProcesses, "strip")} of other processes left out; --process chooses one.";
        }

        if (life.History.LeftOut > 0)
        {
            yield return $"{Numbers.Count(life.History.LeftOut, "strip")} left out: read again, or without aims.";
        }
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
                answer.Slope is var (slope, margin) ? string.Create(CultureInfo.InvariantCulture, $"{Numbers.Deviation(10 * slope)}±{10 * margin:0.000}") : "not told",
                answer.Limit.ToString(),
                Days(answer));
        }

        return table;
    }

    private static string Days(LifeAnswer answer) => answer switch
    {
        { Days: { } days, IsTold: true } => string.Create(CultureInfo.InvariantCulture, $"{days.Estimate:0} ({Math.Max(0, days.Lower):0} to {days.Upper:0})"),
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
                string.Create(CultureInfo.InvariantCulture, $"{Numbers.Deviation(effect.Size)} ±{effect.Margin:0.000}{(effect.IsClear ? "" : " unclear")}"),
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

    private static string Capital(string text) => char.ToUpperInvariant(text[0]) + text[1..];
}

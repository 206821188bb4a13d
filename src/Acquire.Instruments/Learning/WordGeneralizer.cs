using System.Text;
using System.Text.RegularExpressions;

namespace Acquire.Instruments.Learning;

/// <summary>Makes one template of texts that have the same number of words: what is the same stays, what varies becomes a place.</summary>
internal static class TextGeneralizer
{
    /// <summary>The template, blanks at its ends left out.</summary>
    /// <param name="texts">Texts with the same number of words.</param>
    public static string Of(IReadOnlyList<string> texts)
    {
        var split = texts.Select(Words).ToList();
        var calendar = split[0].Any(WordGeneralizer.IsCalendar);
        var template = new StringBuilder();
        for (var i = 0; i < split[0].Length; i++)
        {
            var words = split.Select(s => s[i]).ToList();
            template.Append(i > 0 ? " " : "").Append(WordGeneralizer.Of(words, i > 0 ? split[0][i - 1] : "", calendar));
        }

        return template.ToString();
    }

    public static string[] Words(string text) => text.Split([' ', '\t'], StringSplitOptions.RemoveEmptyEntries);
}

/// <summary>Makes one piece of a template out of the words that stood at the same place on several lines.</summary>
internal static partial class WordGeneralizer
{
    /// <param name="words">The words, one from each line.</param>
    /// <param name="before">The word before them on the first line; empty for none.</param>
    /// <param name="dated">Whether the text around says that this is a part of a date.</param>
    public static string Of(IReadOnlyList<string> words, string before, bool dated)
    {
        var first = words[0];
        var same = words.All(w => w == first);
        // What was the same on the few lines seen may still vary tomorrow: numbers that count and parts of dates become places at once,
        // all else stays as it stands, so that a damaged line does not fit.
        if (!words.All(w => PlainDate().IsMatch(w)) && words.All(w => Number().IsMatch(w)) && (!same || dated || IsRunning(first, before)))
        {
            return "{number}";
        }

        if (words.All(w => PlainDate().IsMatch(w)))
        {
            return "20{number:6}";
        }

        if (!same && Around(words) is { } around)
        {
            return around;
        }

        if (words.All(w => DateOrTime().IsMatch(w)) && Digits(words) is { } date)
        {
            return date;
        }

        if (same)
        {
            return IsRunning(first, before) && LabelAndNumber().Match(first) is { Success: true } glued
                ? Escape(glued.Groups[1].Value) + "{number}" : IsCalendar(first) ? "{word}" : Escape(first);
        }

        return Digits(words) ?? Middle(words);
    }

    /// <summary>Whether the word is the name of a month or a day, which will be another one some day.</summary>
    public static bool IsCalendar(string word) => Calendar().IsMatch(word);

    public static string Escape(string text) => text.Replace("{", "{{").Replace("}", "}}");

    /// <summary>The words with a place for each run of digits, where they differ
    /// in digits only; null where they differ otherwise.</summary>
    private static string? Digits(IReadOnlyList<string> words)
    {
        var shapes = words.Select(w => Run().Replace(w, "0")).Distinct().ToList();
        if (shapes.Count != 1)
        {
            return null;
        }

        var runs = words.Select(w => Run().Matches(w).Select(m => m.Value).ToList()).ToList();
        // Every part of a date varies some day, also those that were the same on the day of learning.
        var isDate = words.All(w => DateOrTime().IsMatch(w));
        var next = 0;
        return Run().Replace(Escape(words[0]), m =>
        {
            var column = next++;
            return isDate || runs.Any(r => r[column] != runs[0][column]) ? "{number}" : m.Value;
        });
    }

    /// <summary>A place for the only number in the words, where all else is the same; null where it is not so.</summary>
    private static string? Around(IReadOnlyList<string> words)
    {
        var parts = words.Select(w => OneNumber().Match(w)).ToList();
        if (!parts.All(m => m.Success) || parts.Select(m => (m.Groups[1].Value, m.Groups[2].Value)).Distinct().Count() > 1)
        {
            return null;
        }

        // A number stops at its own decimal mark where that mark follows it too.
        var (head, tail) = (Escape(parts[0].Groups[1].Value), Escape(parts[0].Groups[2].Value));
        var stops = tail is ['.' or ',', ..] && words.All(w => w[parts[0].Groups[1].Length..^parts[0].Groups[2].Length].Contains(tail[0]));
        return stops ? $"{head}{{number}}{tail[0]}{{number}}{tail}" : $"{head}{{number}}{tail}";
    }

    /// <summary>What the words share at both ends, up to a sign of punctuation, and a place between.</summary>
    private static string Middle(IReadOnlyList<string> words)
    {
        var shortest = words.Min(w => w.Length);
        var head = Enumerable.Range(0, shortest).TakeWhile(i => words.All(w => w[i] == words[0][i])).Count();
        while (head > 0 && char.IsAsciiLetterOrDigit(words[0][head - 1]) && !RestIsNumber(words, head))
        {
            head--;
        }

        var tail = Enumerable.Range(1, shortest - head).TakeWhile(i => words.All(w => w[^i] == words[0][^i])).Count();
        while (tail > 0 && (char.IsAsciiLetterOrDigit(words[0][^tail]) || words.Any(w => w.Length - head - tail < 1)))
        {
            tail--;
        }

        var place = words.All(w => Number().IsMatch(w[head..^tail])) ? "{number}" : "{word}";
        return Escape(words[0][..head]) + place + Escape(words[0][^tail..]);
    }

    private static bool RestIsNumber(IReadOnlyList<string> words, int head) =>
        char.IsAsciiLetter(words[0][head - 1]) && words.All(w => Number().IsMatch(w[head..]));

    private static bool IsRunning(string word, string before) =>
        Counter().IsMatch(before) || (word.Length >= 3 && word.All(char.IsAsciiDigit)) || GluedCounter().IsMatch(word);

    [GeneratedRegex(@"^[+-]?(?:[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+)$")]
    private static partial Regex Number();

    [GeneratedRegex(@"^([^0-9]*?)[+-]?(?:[0-9]+(?:[.,][0-9]+)?|(?<![A-Za-z])[.,][0-9]+)([^0-9]*)$")]
    private static partial Regex OneNumber();

    [GeneratedRegex("^20[0-9]{6}$")]
    private static partial Regex PlainDate();

    [GeneratedRegex("[0-9]+")]
    private static partial Regex Run();

    [GeneratedRegex(@"^[^0-9A-Za-z]*[0-9]{1,4}(?:[-./:][0-9]{1,4})(?:[-./:T][0-9]{1,4})*[^0-9A-Za-z]*$")]
    private static partial Regex DateOrTime();

    [GeneratedRegex(
        @"^(?:(?:No|Nr|Num|Number|ID|Sample|Patch|Job|Strip|Seq|Rec|N|Err|Error|Fault|Lamp|Cal|Page)[.:=#]*|#)$", RegexOptions.IgnoreCase)]
    private static partial Regex Counter();

    [GeneratedRegex(@"^(?:(?:No|Nr|ID|Sample|Patch|Job|Strip|Seq|Rec)[.:=#]*|[#])[0-9]+$", RegexOptions.IgnoreCase)]
    private static partial Regex GluedCounter();

    [GeneratedRegex(@"^(.*?)[0-9]+$")]
    private static partial Regex LabelAndNumber();

    [GeneratedRegex("^(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec|mon|tue|wed|thu|fri|sat|sun)[.,]?$", RegexOptions.IgnoreCase)]
    private static partial Regex Calendar();
}

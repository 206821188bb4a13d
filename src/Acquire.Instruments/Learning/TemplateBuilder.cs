using System.Text;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Learning;

/// <summary>Makes templates of lines whose densities are known: one for each shape of line.</summary>
/// <param name="format">How the densities are written.</param>
internal sealed class TemplateBuilder(NumberFormat format)
{
    /// <summary>The templates of lines that hold the same channels in the same order.</summary>
    public ImmutableArray<string> Build(IEnumerable<ReadingLine> lines, Func<Channel, string> placeName) =>
        lines.ToList() is var all ? [.. all.GroupBy(Shape).Select(g => Template([.. g], all, placeName)).Distinct()] : [];

    /// <summary>Lines of one shape have the same number of words in every gap between densities.</summary>
    private static string Shape(ReadingLine line) => string.Join(';', Gaps(line).Select(Shape));

    private static string Shape(string gap, int index) =>
        FormattableString.Invariant(
            $"{TextGeneralizer.Words(gap).Length}{(index > 0 && gap.Trim().Length > 0 && gap[0] is ' ' or '\t' ? "b" : "")}");

    /// <summary>The words of one gap, learned from all lines that have the same
    /// number there, whatever the rest of the line is like.</summary>
    private static string Words(string gap, int index, List<ReadingLine> all) =>
        TextGeneralizer.Of([.. all.Select(l => Gaps(l).ElementAt(index)).Where(g => Shape(g, index) == Shape(gap, index))]);

    private static IEnumerable<string> Gaps(ReadingLine line)
    {
        var at = 0;
        foreach (var (_, span) in line.Values)
        {
            yield return line.Text[at..span.Start];
            at = span.End;
        }

        yield return line.Text[at..];
    }

    private string Template(ImmutableArray<ReadingLine> lines, List<ReadingLine> all, Func<Channel, string> placeName)
    {
        var gaps = lines.Select(l => Gaps(l).ToImmutableArray()).ToList();
        var widths = Widths(all);
        var template = new StringBuilder();
        foreach (var (i, (channel, _)) in lines[0].Values.Index())
        {
            var texts = gaps.Select(g => g[i]).ToList();
            template.Append(Lead(texts, i)).Append(Words(texts[0], i, all));
            var width = widths is { } columns ? ":" + columns[i].ToString(CultureInfo.InvariantCulture) : "";
            var open = template.Length > 0 && template[^1] == '}';
            template.Append(
                widths is null ? Blank(texts, lines, i) : string.IsNullOrWhiteSpace(texts[0]) ? texts[0].TrimEnd(' ') : open ? " " : "");
            template.Append('{').Append(placeName(channel)).Append(width).Append('}');
        }

        var last = gaps.Select(g => g[^1]).ToList();
        return template.Append(Lead(last, lines[0].Values.Length)).Append(Words(last[0], lines[0].Values.Length, all)).ToString();
    }

    /// <summary>The blank between a density and the words behind it.</summary>
    private static string Lead(List<string> texts, int gap) =>
        gap > 0 && texts[0].Trim().Length > 0 && texts[0][0] is ' ' or '\t' ? " " : "";

    /// <summary>The blank before a density.</summary>
    private string Blank(List<string> texts, ImmutableArray<ReadingLine> lines, int gap)
    {
        var bare = Enumerable.Range(0, texts.Count).Where(i => texts[i] is not [.., ' ' or '\t']).ToList();
        if (bare.Count == texts.Count || (gap == 0 && texts.All(string.IsNullOrWhiteSpace)))
        {
            return "";
        }

        var taken = format.Sign == SignHabit.BlankForPlus && bare.All(i => lines[i].Values[gap].Span.In(lines[i].Text)[0] == '-');
        return bare.Count == 0 || taken
            ? " "
            : throw new DeclinedException($"Before {lines[0].Values[gap].Channel.Word()} a blank stands on some lines and not on others.");
    }

    /// <summary>The width of every density, where numbers of different lengths end in the same column or are padded from the line's
    /// beginning, and nothing else tells that a digit was lost; null where they take the room they need.</summary>
    private List<int>? Widths(List<ReadingLine> lines)
    {
        // A fixed number of digits shows a lost one already; a width would only refuse good lines of another make-up.
        if (format.WholeDigits is not null)
        {
            return null;
        }

        var gaps = lines.Select(l => Gaps(l).ToImmutableArray()).ToList();
        var count = lines[0].Values.Length;
        var widths = new List<int>();
        var differ = false;
        for (var i = 0; i < count; i++)
        {
            var fields = lines.Select((l, n) => Blanks(gaps[n][i]) + l.Values[i].Span.Length).Distinct().ToList();
            if (fields.Count != 1 || lines.Select((_, n) => gaps[n][i].Trim().Length).Distinct().Count() > 1)
            {
                return null;
            }

            // Numbers of different lengths that end in one column prove the width; all of one length, it may be chance.
            differ |= lines.Select(l => l.Values[i].Span.Length).Distinct().Count() > 1;
            var open = Words(gaps[0][i], i, lines) is [.., '}'];
            widths.Add(fields[0] - (open ? 1 : 0));
        }

        var padded = lines.All(l => l.Text[0] == ' ' && l.Values[0].Span.Start == Blanks(l.Text[..l.Values[0].Span.Start]));
        return differ || padded ? widths : null;
    }

    private static int Blanks(string gap) => gap.Length - gap.TrimEnd(' ').Length;
}

/// <summary>Infers how an instrument writes numbers from the densities it is known to have written.</summary>
internal static class NumberHabits
{
    public static NumberFormat Of(Interpretation interpretation, int shownDecimals)
    {
        var values = interpretation.Readings.SelectMany(r => r)
            .SelectMany(l => l.Values.Select(v => (Text: v.Span.In(l.Text), Before: v.Span.Start > 0 ? l.Text[v.Span.Start - 1] : ' ')))
                .ToList();
        var mark = interpretation.Scanner.Mark;
        var decimals = values.Select(v => mark == DecimalMark.Implied ? shownDecimals : Digits(v.Text, behind: true)).Distinct().ToList();
        // One number of decimals is what shows a lost digit at the end, so nothing is learned without.
        if (decimals is not [>= 1 and <= 4])
        {
            throw new DeclinedException("The densities on the lines do not all have the same number of decimals, from 1 to 4.");
        }

        var whole = values.Select(v => Digits(v.Text, behind: false) - (mark == DecimalMark.Implied ? decimals[0] : 0)).Distinct().ToList();
        return new NumberFormat
        {
            DecimalMark = mark,
            Decimals = decimals[0],
            WholeDigits = whole is [1 or 2] ? whole[0] : null,
            Sign = Sign([.. values.Select(v => (v.Text[0], v.Before))]),
        };
    }

    private static SignHabit Sign(List<(char First, char Before)> values)
    {
        var plus = values.Count(v => v.First == '+');
        var unsigned = values.Where(v => v.First is not ('+' or '-')).ToList();
        return (plus, unsigned.Count) switch
        {
            ( > 0, 0) => SignHabit.Always,
            ( > 0, _) => SignHabit.Any,
            // A blank before every number may be the place of the sign; this also takes a minus that has a blank before it.
            _ when unsigned.All(v => v.Before == ' ') => SignHabit.BlankForPlus,
            _ => SignHabit.MinusOnly,
        };
    }

    private static int Digits(string number, bool behind)
    {
        var mark = number.IndexOfAny(['.', ',']);
        var part = behind ? number[(mark + 1)..] : mark < 0 ? number : number[..mark];
        return part.Count(char.IsAsciiDigit);
    }
}

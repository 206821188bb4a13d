using System.Text;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Learning;

/// <summary>Makes templates of lines whose densities are known: one for each shape of line.</summary>
/// <param name="format">How the densities are written.</param>
internal sealed class TemplateBuilder(NumberFormat format)
{
    /// <summary>The templates of lines that hold the same channels in the same order.</summary>
    public ImmutableArray<string> Build(IEnumerable<ReadingLine> lines, Func<Channel, string> placeName) =>
        GapMarks.Put(lines) is var all
            ? [.. all.GroupBy(Shape).Select(g => GapMarks.Places(Template([.. g], all, placeName))).Distinct()]
            : [];

    /// <summary>Lines of one shape have the same number of words in every gap between densities.</summary>
    private static string Shape(ReadingLine line) => string.Join(';', line.Gaps.Select(Shape));

    private static string Shape(string gap, int index) =>
        FormattableString.Invariant(
            $"{TextGeneralizer.Words(gap).Length}{(index > 0 && gap.Trim().Length > 0 && gap[0] is ' ' or '\t' ? "b" : "")}");

    /// <summary>The words of one gap, learned from all lines that have the same
    /// number there, whatever the rest of the line is like.</summary>
    private static string Words(string gap, int index, List<ReadingLine> all) =>
        TextGeneralizer.Of([.. all.Select(l => l.Gaps[index]).Where(g => Shape(g, index) == Shape(gap, index))]);

    private string Template(ImmutableArray<ReadingLine> lines, List<ReadingLine> all, Func<Channel, string> placeName)
    {
        var gaps = lines.Select(l => l.Gaps).ToList();
        var widths = Widths(all);
        var template = new StringBuilder();
        foreach (var (i, (channel, _)) in lines[0].Values.Index())
        {
            var texts = gaps.Select(g => g[i]).ToList();
            template.Append(Lead(texts, i)).Append(Words(texts[0], i, all));
            var room = widths?[i] ?? Touching(lines, i);
            var width = room is { } columns ? ":" + columns.ToString(CultureInfo.InvariantCulture) : "";
            var open = template.Length > 0 && template[^1] == '}';
            template.Append(
                widths is null ? Blank(texts, lines, i) : string.IsNullOrWhiteSpace(texts[0]) ? texts[0].TrimEnd(' ') : open ? " " : "");
            template.Append('{').Append(placeName(channel)).Append(width).Append('}');
        }

        var last = gaps.Select(g => g[^1]).ToList();
        return template.Append(Lead(last, lines[0].Values.Length)).Append(Words(last[0], lines[0].Values.Length, all)).ToString();
    }

    /// <summary>The width of a density that touches another or a number before it, so that only columns part them; null for any other.
    /// Columns hold over-range marks with blanks in front, too.</summary>
    private static int? Touching(ImmutableArray<ReadingLine> lines, int index)
    {
        var next = index + 1 < lines[0].Values.Length && lines.All(l => l.Gaps[index + 1].Length == 0);
        var before = lines.All(l => (index > 0 && l.Gaps[index].Length == 0) || GapMarks.EndsInNumber(l.Gaps[index]));
        var lengths = lines.Select(l => l.Values[index].Span.Length).Distinct().ToList();
        return !next && !before ? null
            : lengths.Count == 1 ? lengths[0]
            : !next ? null
            : throw new DeclinedException(
                $"Nothing parts {lines[0].Values[index].Channel.Word()} from what follows, and its length varies; so it cannot be known "
                + "where it ends.");
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

        var gaps = lines.Select(l => l.Gaps).ToList();
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

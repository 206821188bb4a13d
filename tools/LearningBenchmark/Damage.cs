using System.Text;
using LearningBenchmark.Formats;

namespace LearningBenchmark;

/// <summary>Damages the lines of a reading as a bad line does: a character lost, a character turned into another, an end cut off.</summary>
internal static class Damage
{
    private const int Each = 12;

    public static IEnumerable<List<string>> Of(InventedFormat format, List<string> lines, Range own, Random random)
    {
        var (start, length) = own.GetOffsetAndLength(lines.Count);
        for (var i = 0; i < Each; i++)
        {
            var line = start + random.Next(length);
            var text = lines[line];
            var at = random.Next(text.Length);
            if (!CannotBeSeen(format, text, at))
            {
                yield return With(lines, line, text.Remove(at, 1));
            }

            // A minus turned into a blank cannot be told from a plus; any other character into a tilde can.
            yield return With(lines, line, text[at] is '-' or '+' ? text : new StringBuilder(text) { [at] = '~' }.ToString());
            yield return With(lines, line, text[..at]);
        }
    }

    /// <summary>A lost sign shows in no format. A lost first digit does not show where neither a leading zero nor a column would tell.
    /// What is lost outside the values changes no reading.</summary>
    private static bool CannotBeSeen(InventedFormat format, string line, int at) =>
        line[at] is '-' or '+'
        || (!format.LeadingZero && format.Mark != '\0' && char.IsAsciiDigit(line[at]) && line.IndexOf(format.Mark, at) == at + 1);

    private static List<string> With(List<string> lines, int index, string text)
    {
        var damaged = lines.ToList();
        damaged[index] = text;
        return damaged;
    }
}

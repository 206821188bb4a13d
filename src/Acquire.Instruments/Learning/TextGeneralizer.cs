using System.Text;

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

using Spectre.Console;

namespace Acquire.Rendering;

/// <summary>Sentences under each other, wrapped at a terminal's width with their indent kept; in a file a sentence stays on one line.</summary>
internal static class Paragraphs
{
    private const int Narrowest = 30;

    /// <summary>Writes a sentence.</summary>
    /// <param name="console">Where to.</param>
    /// <param name="lead">What its first line begins with; the others are indented as far.</param>
    /// <param name="text">The sentence.</param>
    public static void Paragraph(this IAnsiConsole console, string lead, string text)
    {
        var width = console.Profile.Capabilities.Ansi ? Math.Max(Narrowest, console.Profile.Width - 1) : int.MaxValue;
        foreach (var line in Wrap(lead, text, width))
        {
            console.Line(line);
        }
    }

    /// <summary>The lines of a sentence, none wider than a width unless a word is.</summary>
    internal static IEnumerable<string> Wrap(string lead, string text, int width)
    {
        var line = lead;
        var isEmpty = true;
        foreach (var word in text.Split(' '))
        {
            if (!isEmpty && line.Length + 1 + word.Length > width)
            {
                yield return line;
                (line, isEmpty) = (new string(' ', lead.Length), true);
            }

            line += isEmpty ? word : " " + word;
            isEmpty = false;
        }

        yield return line;
    }
}

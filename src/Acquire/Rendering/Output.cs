using System.Text.Json;

namespace Acquire.Rendering;

/// <summary>Text as it is: not read as markup, and broken between words only where it must fit a width.</summary>
internal static class PlainText
{
    private const int Narrowest = 30;

    public static void Line(this IAnsiConsole console, string text) => console.Profile.Out.Writer.WriteLine(text);

    public static void Lines(this IAnsiConsole console, IEnumerable<string> texts)
    {
        foreach (var text in texts)
        {
            console.Line(text);
        }
    }

    /// <summary>Writes a sentence, wrapped at a terminal's width with its indent kept; in a file it stays on one line.</summary>
    /// <param name="lead">What its first line begins with; the others are indented as far.</param>
    public static void Paragraph(this IAnsiConsole console, string lead, string text)
    {
        if (!console.Profile.Capabilities.Ansi)
        {
            console.Line(lead + text);
            return;
        }

        foreach (var (i, line) in Wrap(text, Math.Max(Narrowest, console.Profile.Width - 1) - lead.Length).Index())
        {
            console.Line((i == 0 ? lead : new string(' ', lead.Length)) + line);
        }
    }

    /// <summary>Breaks a text between words; a word that is too wide by itself is broken, too.</summary>
    /// <param name="width">Room for a line.</param>
    /// <param name="letter">Room that a letter takes; where only the letters are known a wide one's, so that nothing is cut.</param>
    public static IEnumerable<string> Wrap(string text, double width, double letter = 1)
    {
        var most = Math.Max(8, (int)(width / letter));
        var line = "";
        foreach (var word in text.Split(' ', StringSplitOptions.RemoveEmptyEntries).SelectMany(w => w.Chunk(most)).Select(
            c => new string(c)))
        {
            if (line.Length > 0 && line.Length + 1 + word.Length > most)
            {
                yield return line;
                line = "";
            }

            line = line.Length == 0 ? word : $"{line} {word}";
        }

        if (line.Length > 0)
        {
            yield return line;
        }
    }
}

/// <summary>JSON for other programs, as people read it too.</summary>
internal static class JsonOutput
{
    public static void Write<T>(IAnsiConsole console, T value) => console.Line(JsonSerializer.Serialize(value, DocumentText.Indented));
}

namespace Acquire.Rendering;

/// <summary>Text of which only the letters are known: its width is reckoned from a wide letter's, so that nothing is cut.</summary>
internal static class TextMeasure
{
    /// <summary>About how wide a text is.</summary>
    /// <param name="text">The text.</param>
    /// <param name="letter">Width of a letter in pixels.</param>
    public static double Width(string text, double letter) => text.Length * letter;

    /// <summary>Breaks a text between words; a word that is too wide by itself is broken, too.</summary>
    public static IEnumerable<string> Wrap(string text, double width, double letter)
    {
        var most = Math.Max(8, (int)(width / letter));
        var line = "";
        foreach (var word in text.Split(' ', StringSplitOptions.RemoveEmptyEntries).SelectMany(w => w.Chunk(most)).Select(c => new string(c)))
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

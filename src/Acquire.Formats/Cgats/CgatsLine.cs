using System.Text;

namespace Acquire.Formats.Cgats;

/// <summary>Splits a line into words: runs of blanks and tabs separate, quotes hold together, a <c>#</c> begins a comment.</summary>
internal static class CgatsLine
{
    public readonly record struct Word(string Text, bool Quoted)
    {
        public bool Is(string keyword) => !Quoted && string.Equals(Text, keyword, StringComparison.OrdinalIgnoreCase);
    }

    /// <exception cref="ImportException">A quote does not close in the line.</exception>
    public static List<Word> Words(string line, FilePlace spot)
    {
        var words = new List<Word>();
        for (var i = 0; i < line.Length;)
        {
            if (line[i] is ' ' or '\t')
            {
                i++;
            }
            else if (line[i] == '#')
            {
                break;
            }
            else if (line[i] is '"' or '\'')
            {
                words.Add(Quoted(line, ref i, spot));
            }
            else
            {
                var start = i;
                while (i < line.Length && line[i] is not (' ' or '\t'))
                {
                    i++;
                }

                words.Add(new Word(line[start..i], false));
            }
        }

        return words;
    }

    /// <summary>
    /// The fields of a line that separates by single tabs and has no quotes, a form that is common and not the standard's.
    /// </summary>
    public static List<Word> Tabbed(string line) => [.. line.Split('\t').Select(f => f.Trim()).Select(f =>
        f is ['"', .., '"'] && f.Length >= 2 ? new Word(f[1..^1], true) : new Word(f, f.Length == 0))];

    private static Word Quoted(string line, ref int i, FilePlace spot)
    {
        var quote = line[i++];
        var text = new StringBuilder();
        while (i < line.Length)
        {
            if (line[i] != quote)
            {
                _ = text.Append(line[i++]);
            }
            // Two quotes at once are the empty text; behind a letter they are one quote of the text.
            else if (text.Length > 0 && i + 1 < line.Length && line[i + 1] == quote)
            {
                _ = text.Append(quote);
                i += 2;
            }
            else
            {
                i++;
                return new Word(text.ToString(), true);
            }
        }

        throw spot.Wrong($"a quote does not close: {FilePlace.Shown(text.ToString())}");
    }
}

/// <summary>Reads lines that end with CR, LF or both, and refuses what is no text.</summary>
internal sealed class LineReader(TextReader text, string file)
{
    private const int LongestLine = 1024 * 1024;

    private readonly char[] _buffer = new char[16 * 1024];
    private int _at;
    private int _length;
    private bool _afterReturn;

    /// <summary>Where the line that was given last stands.</summary>
    public FilePlace Spot { get; private set; } = new(file, 0);

    /// <summary>The next line; null at the end.</summary>
    public async ValueTask<string?> NextAsync(CancellationToken cancellationToken)
    {
        Spot = Spot with { Line = Spot.Line + 1 };
        var line = new StringBuilder();
        while (await FillAsync(cancellationToken))
        {
            var c = _buffer[_at++];
            if (c == '\n' && _afterReturn)
            {
                _afterReturn = false;
                continue;
            }

            _afterReturn = c == '\r';
            if (c is '\r' or '\n')
            {
                return line.ToString();
            }

            if ((char.IsControl(c) && c != '\t') || line.Length >= LongestLine)
            {
                throw Spot.Wrong("there are bytes here that are no text; expected CGATS.17 text");
            }

            _ = line.Append(c);
        }

        return line.Length > 0 ? line.ToString() : null;
    }

    private async ValueTask<bool> FillAsync(CancellationToken cancellationToken)
    {
        if (_at == _length)
        {
            (_at, _length) = (0, await text.ReadAsync(_buffer, cancellationToken));
        }

        return _length > 0;
    }
}

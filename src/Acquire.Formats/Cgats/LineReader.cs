using System.Text;

namespace Acquire.Formats.Cgats;

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

using System.Text;
using System.Text.Json;

namespace Acquire.Formats.Json;

/// <summary>Where each value of a JSON text stands: from JSON pointer (RFC 6901) to line and column, both from 1.</summary>
internal sealed class JsonPlaces
{
    private readonly byte[] _json;
    private readonly Dictionary<string, long> _offsets = new(StringComparer.Ordinal) { [""] = 0 };
    private readonly List<string> _twice = [];

    /// <exception cref="JsonException">
    /// The text is no JSON, or a string of it holds half of a surrogate pair, which is valid JSON but no text.
    /// </exception>
    public JsonPlaces(byte[] json)
    {
        _json = json;
        var reader =
            new Utf8JsonReader(json, new JsonReaderOptions { CommentHandling = JsonCommentHandling.Skip, AllowTrailingCommas = true });
        reader.Read();
        Walk(ref reader, "");
    }

    /// <summary>Pointers of members that are written twice in one object.</summary>
    public IReadOnlyList<string> Twice => _twice;

    /// <summary>The place of a value; of its nearest container when it is not there.</summary>
    public (int Line, int Column) Of(string pointer)
    {
        long offset;
        while (!_offsets.TryGetValue(pointer, out offset))
        {
            pointer = pointer[..Math.Max(pointer.LastIndexOf('/'), 0)];
        }

        var before = Before(offset, out var line);
        return (line, Encoding.UTF8.GetCharCount(before) + 1);
    }

    public static string Name(string pointer) => pointer[(pointer.LastIndexOf('/') + 1)..].Replace("~1", "/").Replace("~0", "~");

    /// <summary>A pointer as people write paths: <c>$.parameters[0].action</c>.</summary>
    public static string Path(string pointer) => "$" + string.Concat(pointer.Split('/').Skip(1)
        .Select(s => s.Length > 0 && s.All(char.IsAsciiDigit) ? $"[{s}]" : $".{Name(s)}"));

    /// <summary>The bytes of a place's line before it.</summary>
    private ReadOnlySpan<byte> Before(long offset, out int line)
    {
        var before = _json.AsSpan(0, (int)offset);
        line = before.Count((byte)'\n') + 1;
        return before[(before.LastIndexOf((byte)'\n') + 1)..];
    }

    private string Text(ref Utf8JsonReader reader)
    {
        try
        {
            return reader.GetString()!;
        }
        catch (InvalidOperationException e)
        {
            // An escape such as \uD800 is well formed, but half a character is no text.
            var before = Before(reader.TokenStartIndex, out var line);
            throw new JsonException("A string is no valid text.", null, line - 1, before.Length, e);
        }
    }

    private void Walk(ref Utf8JsonReader reader, string pointer)
    {
        _offsets[pointer] = reader.TokenStartIndex;
        _ = reader.TokenType == JsonTokenType.String ? Text(ref reader) : null;
        if (reader.TokenType == JsonTokenType.StartObject)
        {
            while (reader.Read() && reader.TokenType != JsonTokenType.EndObject)
            {
                var child = $"{pointer}/{Text(ref reader).Replace("~", "~0").Replace("/", "~1")}";
                if (_offsets.ContainsKey(child))
                {
                    _twice.Add(child);
                }

                reader.Read();
                Walk(ref reader, child);
            }
        }
        else if (reader.TokenType == JsonTokenType.StartArray)
        {
            for (var index = 0; reader.Read() && reader.TokenType != JsonTokenType.EndArray; index++)
            {
                Walk(ref reader, FormattableString.Invariant($"{pointer}/{index}"));
            }
        }
    }
}

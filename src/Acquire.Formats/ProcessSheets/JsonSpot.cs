using System.Text;
using System.Text.Json;

namespace Acquire.Formats.ProcessSheets;

/// <summary>A JSON value that knows its line and path, so that a message can send the user there.</summary>
/// <param name="Path">Such as <c>$.parameters[0].action</c>.</param>
/// <param name="Line">Counts from 1.</param>
/// <param name="Column">Counts characters from 1.</param>
/// <param name="Kind">The token it begins with.</param>
/// <param name="Value">The string or double of a plain value; null for anything else.</param>
/// <param name="Members">The members of an object, by name, in order; two of one name are both here.</param>
/// <param name="Items">The items of an array.</param>
internal sealed record JsonSpot(
    string Path,
    int Line,
    int Column,
    JsonTokenType Kind,
    object? Value,
    ImmutableArray<(string Name, JsonSpot Spot)> Members,
    ImmutableArray<JsonSpot> Items)
{
    /// <summary>What it is, in a word for the user.</summary>
    public string Word => Kind switch
    {
        JsonTokenType.StartObject => "an object",
        JsonTokenType.StartArray => "a list",
        JsonTokenType.String => $"the text \"{Value}\"",
        JsonTokenType.Number => FormattableString.Invariant($"the number {Value}"),
        JsonTokenType.True => "true",
        JsonTokenType.False => "false",
        _ => "null",
    };

    public JsonSpot? Member(string name) => Members.FirstOrDefault(m => m.Name == name).Spot;
}

/// <summary>Reads JSON text into spots.</summary>
internal static class JsonSpotReader
{
    /// <exception cref="JsonException">The text is no JSON; the exception has the line.</exception>
    public static JsonSpot Read(string text)
    {
        var bytes = Encoding.UTF8.GetBytes(text.TrimStart('\uFEFF'));
        var reader = new Utf8JsonReader(bytes, new JsonReaderOptions { MaxDepth = 16 });
        var lines = new LineCounter(bytes);
        _ = reader.Read();
        var root = Read(ref reader, "$", lines);
        _ = reader.Read();
        return root;
    }

    private static JsonSpot Read(ref Utf8JsonReader reader, string path, LineCounter lines)
    {
        var (line, column) = lines.At(reader.TokenStartIndex);
        var spot = new JsonSpot(path, line, column, reader.TokenType, ValueOf(ref reader, lines), [], []);
        return reader.TokenType switch
        {
            JsonTokenType.StartObject => spot with { Members = ReadMembers(ref reader, path, lines) },
            JsonTokenType.StartArray => spot with { Items = ReadItems(ref reader, path, lines) },
            _ => spot,
        };
    }

    private static object? ValueOf(ref Utf8JsonReader reader, LineCounter lines) => reader.TokenType switch
    {
        JsonTokenType.String => TextOf(ref reader, lines),
        JsonTokenType.Number => reader.GetDouble(),
        _ => null,
    };

    private static string TextOf(ref Utf8JsonReader reader, LineCounter lines)
    {
        try
        {
            return reader.GetString()!;
        }
        catch (InvalidOperationException e)
        {
            // An escape such as \uD800 is well formed, but half a character is no text.
            var (line, column) = lines.At(reader.TokenStartIndex);
            throw new JsonException(e.Message, null, line - 1, column - 1, e);
        }
    }

    private static ImmutableArray<(string, JsonSpot)> ReadMembers(ref Utf8JsonReader reader, string path, LineCounter lines)
    {
        var members = ImmutableArray.CreateBuilder<(string, JsonSpot)>();
        while (reader.Read() && reader.TokenType == JsonTokenType.PropertyName)
        {
            var name = TextOf(ref reader, lines);
            _ = reader.Read();
            members.Add((name, Read(ref reader, $"{path}.{name}", lines)));
        }

        return members.ToImmutable();
    }

    private static ImmutableArray<JsonSpot> ReadItems(ref Utf8JsonReader reader, string path, LineCounter lines)
    {
        var items = ImmutableArray.CreateBuilder<JsonSpot>();
        while (reader.Read() && reader.TokenType != JsonTokenType.EndArray)
        {
            items.Add(Read(ref reader, $"{path}[{items.Count}]", lines));
        }

        return items.ToImmutable();
    }

    /// <summary>Counts lines and characters up to ever later places.</summary>
    private sealed class LineCounter(byte[] bytes)
    {
        private int _counted;
        private int _line = 1;

        public (int Line, int Column) At(long index)
        {
            // Spots come in the order of the text, so no line is counted twice.
            var (from, to) = (_counted, (int)index);
            _line += bytes.AsSpan(from, to - from).Count((byte)'\n');
            _counted = to;
            var lineStart = bytes.AsSpan(0, to).LastIndexOf((byte)'\n') + 1;
            return (_line, Encoding.UTF8.GetCharCount(bytes, lineStart, to - lineStart) + 1);
        }
    }
}

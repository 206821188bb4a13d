using System.Text;
using System.Text.Json;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.ProfileFiles;

/// <summary>Gathers what is wrong with one file.</summary>
internal sealed class ErrorList(string file, JsonPlaces places)
{
    private readonly List<ProfileError> _errors = [];

    public void Add(string pointer, string message)
    {
        var (line, column) = places.Of(pointer);
        _errors.Add(new ProfileError(file, line, column, message));
    }

    /// <summary>Throws when anything was gathered.</summary>
    /// <exception cref="ProfileException">Anything was.</exception>
    public void ThrowIfAny()
    {
        if (_errors.Count > 0)
        {
            throw new ProfileException([.. _errors.Distinct().OrderBy(e => (e.Line, e.Column)).ToImmutableArray()]);
        }
    }
}

/// <summary>Where each value of a JSON text stands: from JSON pointer (RFC 6901) to line and column, both from 1.</summary>
internal sealed class JsonPlaces
{
    private readonly byte[] _json;
    private readonly Dictionary<string, long> _offsets = new(StringComparer.Ordinal) { [""] = 0 };
    private readonly List<string> _twice = [];

    /// <exception cref="JsonException">A string holds half of a surrogate pair, which is valid JSON but no text.</exception>
    public JsonPlaces(byte[] json)
    {
        _json = json;
        var reader =
            new Utf8JsonReader(json, new JsonReaderOptions { CommentHandling = JsonCommentHandling.Skip, AllowTrailingCommas = true });
        reader.Read();
        Walk(ref reader, "");
    }

    /// <summary>Pointers of properties that are written twice in one object.</summary>
    public IReadOnlyList<string> Twice => _twice;

    /// <summary>The place of a value; of its nearest container when it is not there.</summary>
    public (int Line, int Column) Of(string pointer)
    {
        long offset;
        while (!_offsets.TryGetValue(pointer, out offset))
        {
            pointer = pointer[..Math.Max(pointer.LastIndexOf('/'), 0)];
        }

        return At(_json, offset);
    }

    /// <summary>Line and column of a byte offset.</summary>
    public static (int Line, int Column) At(ReadOnlySpan<byte> json, long offset)
    {
        var before = json[..(int)offset];
        var lineStart = before.LastIndexOf((byte)'\n') + 1;
        return (before.Count((byte)'\n') + 1, Encoding.UTF8.GetCharCount(before[lineStart..]) + 1);
    }

    /// <summary>A name as a segment of a pointer.</summary>
    public static string Segment(string name) => "/" + name.Replace("~", "~0").Replace("/", "~1");

    private string Text(ref Utf8JsonReader reader)
    {
        try
        {
            return reader.GetString()!;
        }
        catch (InvalidOperationException e)
        {
            var (line, _) = At(_json, reader.TokenStartIndex);
            var lineStart = _json.AsSpan(0, (int)reader.TokenStartIndex).LastIndexOf((byte)'\n') + 1;
            throw new JsonException("A string is no valid text.", null, line - 1, reader.TokenStartIndex - lineStart, e);
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
                var child = pointer + Segment(Text(ref reader));
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

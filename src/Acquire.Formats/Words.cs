using System.Collections.Frozen;
using System.Diagnostics.CodeAnalysis;
using System.Text.Json;

namespace Acquire.Formats;

/// <summary>The names of an enumeration as files have them: lower case, words joined by an underscore.</summary>
[SuppressMessage("Design", "CA1000", Justification = "Words<Channel>.Of(channel) says best which words are meant.")]
public static class Words<T>
    where T : struct, Enum
{
    private static readonly FrozenDictionary<string, T> ByWord = Enum.GetValues<T>().ToFrozenDictionary(Of, StringComparer.Ordinal);

    public static string Of(T value) => JsonNamingPolicy.SnakeCaseLower.ConvertName(value.ToString());

    public static T Parse(string word) => ByWord.TryGetValue(word, out var value)
        ? value
        : throw new FormatException($"'{word}' is none of {string.Join(", ", ByWord.Keys.Order(StringComparer.Ordinal))}");
}

using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;

namespace Acquire.Formats.Json;

/// <summary>
/// Reads what earlier versions wrote, under the names of today. In the snapshots of old stores and in old JSON Lines names are joined by
/// underscores, and some members of a process sheet are called otherwise than in its file. Stored rows are sealed and never rewritten, so
/// this stays.
/// </summary>
internal static partial class EarlierJson
{
    private static readonly Dictionary<string, string> Renamed = new(StringComparer.Ordinal)
    {
        ["minus_patch"] = "minus", ["spread_of"] = "of", ["base_patch"] = "base", ["channel_limits"] = "limits",
    };

    /// <summary>Reads a text that has a process sheet in it, old or new; null for the text null.</summary>
    public static T? Deserialize<T>(string text, JsonSerializerOptions options)
        where T : class =>
        // Every parameter says what it stands for, so every old sheet has this name; within a text its quotes would be escaped.
        OldName().IsMatch(text)
            ? Renewed(JsonNode.Parse(text)).Deserialize<T>(options)
            : JsonSerializer.Deserialize<T>(text, options);

    private static JsonNode? Renewed(JsonNode? json) => json switch
    {
        // The usual layout stood beside the list that it is the first of.
        JsonObject members => new JsonObject(members
            .Where(m => m.Key != "layout" || !members.ContainsKey("layouts"))
            .Select(m => KeyValuePair.Create(
                Renamed.GetValueOrDefault(m.Key) ?? Camel(m.Key),
                m is { Key: "channel_limits", Value: JsonArray channels } ? ByChannel(channels) : Renewed(m.Value)))),
        JsonArray items => new JsonArray([.. items.Select(Renewed)]),
        _ => json?.DeepClone(),
    };

    private static JsonObject ByChannel(JsonArray channels) => new(channels.Select(c => KeyValuePair.Create(
        (string)c!["channel"]!, Renewed(new JsonObject(c.AsObject().Where(m => m.Key != "channel").Select(
            m => KeyValuePair.Create(m.Key, m.Value?.DeepClone())))))));

    private static string Camel(string name) =>
        string.Concat(name.Split('_').Select((word, i) => i == 0 || word.Length == 0 ? word : char.ToUpperInvariant(word[0]) + word[1..]));

    [GeneratedRegex("\"stands_for\"\\s*:")]
    private static partial Regex OldName();
}

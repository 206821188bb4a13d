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

using System.Text.Json;
using Json.Schema;

namespace Acquire.Formats.Json;

/// <summary>The form of a kind of JSON file by its schema (JSON Schema 2020-12), with messages that say what was expected.</summary>
/// <param name="schemaText">The schema. Where it gives a pattern, its description is shown to the user.</param>
public sealed class JsonForm(string schemaText)
{
    private static readonly string[] Branches = ["/oneOf/", "/anyOf/", "/if/"];
    private static readonly EvaluationOptions Options = new() { OutputFormat = OutputFormat.List };

    private readonly JsonElement _text = JsonDocument.Parse(schemaText).RootElement;
    private readonly JsonSchema _schema = JsonSchema.FromText(schemaText, new BuildOptions { SchemaRegistry = new SchemaRegistry() });

    /// <summary>Everything that the schema refuses, as pointer and message.</summary>
    internal IReadOnlyList<(string Pointer, string Message)> Check(JsonElement value)
    {
        var results = _schema.Evaluate(value, Options);
        var found = results.IsValid ? [] : Problems(results, value).Distinct().ToList();
        return results.IsValid || found.Count > 0 ? found : [("", $"The file does not fit the schema '{Text(_text, "title")}'.")];
    }

    private IEnumerable<(string Pointer, string Message)> Problems(EvaluationResults results, JsonElement value) =>
        from result in (results.Details ?? []).Prepend(results)
        let path = result.EvaluationPath.ToString()
        // Branches of a choice fail by design.
        where !result.IsValid && !path.EndsWith("/if", StringComparison.Ordinal)
            && !Branches.Any(b => path.Contains(b, StringComparison.Ordinal))
        let pointer = result.InstanceLocation.ToString()
        let found = result.InstanceLocation.Evaluate(value) ?? value
        let part = At(path)
        from message in (result.Errors ?? new Dictionary<string, string>())
            .SelectMany(e => Messages(e.Key, e.Value, path, part, pointer, found)).Concat(Silent(part, found))
        select (pointer, message);

    private IEnumerable<string> Messages(
        string keyword, string message, string path, JsonElement part, string pointer, JsonElement found) => keyword switch
    {
        "" when path.EndsWith("/additionalProperties", StringComparison.Ordinal) =>
            [$"'{JsonPlaces.Name(pointer)}' is not known here; expected one of {Names(At(path[..path.LastIndexOf('/')]))}."],
        "required" => Words(part.GetProperty("required")).Where(n => !found.TryGetProperty(n, out _))
            .Select(n => $"'{n}' is missing; expected {Expected(part, n)}."),
        "type" => [$"Expected {Expected(part)}, found {Word(found)}."],
        "enum" => [$"Expected {Expected(part)}."],
        "pattern" => [$"Expected: {Text(part, "description")}"],
        // Parents only repeat that a child failed.
        "properties" or "items" or "additionalProperties" or "propertyNames" or "oneOf" or "anyOf" or "allOf" or "then" or "else" or "$ref"
            or "if" => [],
        _ => [message],
    };

    /// <summary>What the evaluation refuses without a message of its own: a choice between members, and what must not be.</summary>
    private static IEnumerable<string> Silent(JsonElement part, JsonElement found)
    {
        if (part.ValueKind != JsonValueKind.Object)
        {
            yield break;
        }

        foreach (var (keyword, words) in new[] { ("oneOf", "exactly one of"), ("anyOf", "at least one of") })
        {
            if (found.ValueKind == JsonValueKind.Object && part.TryGetProperty(keyword, out var branches))
            {
                var names = branches.EnumerateArray().Select(b => b.TryGetProperty("required", out var r) ? Words(r).First() : null)
                    .OfType<string>().ToList();
                var there = names.Count(n => found.TryGetProperty(n, out _));
                if (there == 0 || (there > 1 && keyword == "oneOf"))
                {
                    yield return $"Expected {words} {string.Join(" and ", names)}.";
                }
            }
        }

        if (part.TryGetProperty("not", out var not) && not.TryGetProperty("const", out var never) && found.ToString() == never.ToString())
        {
            yield return $"Expected: {Text(part, "description")}";
        }
    }

    private string Expected(JsonElement part, string member) =>
        part.TryGetProperty("properties", out var members) && members.TryGetProperty(member, out var one)
            && one.ValueKind == JsonValueKind.Object ? Expected(one) : "a value";

    /// <summary>What a part of the schema asks for, in words.</summary>
    private string Expected(JsonElement part)
    {
        while (part.TryGetProperty("$ref", out var reference))
        {
            part = At(reference.GetString()!.TrimStart('#'));
        }

        return part.TryGetProperty("enum", out var words)
            ? $"one of {string.Join(", ", words.EnumerateArray())}"
            : string.Join(" or ", (part.TryGetProperty("type", out var type) ? Words(type) : ["object"]).Select(t => t switch
            {
                "string" => "a text",
                "number" => "a number",
                "integer" => "a whole number",
                "boolean" => "true or false",
                "array" => "a list",
                "null" => "null",
                _ => Names(part) is { Length: > 0 } names ? $"an object with {names}" : "an object",
            }));
    }

    private static string Names(JsonElement part) => part.TryGetProperty("properties", out var members)
        ? string.Join(", ", members.EnumerateObject().Select(p => p.Name).Where(n => n[0] != '$'))
        : "";

    private static string? Text(JsonElement part, string name) => part.TryGetProperty(name, out var text) ? text.GetString() : null;

    private static IEnumerable<string> Words(JsonElement one) =>
        one.ValueKind == JsonValueKind.Array ? one.EnumerateArray().Select(e => e.GetString()!) : [one.GetString()!];

    private static string Word(JsonElement found) => found.ValueKind switch
    {
        JsonValueKind.Object => "an object",
        JsonValueKind.Array => "a list",
        JsonValueKind.String => $"the text \"{FilePlace.Shown(found.GetString()!)}\"",
        JsonValueKind.Number => $"the number {found.GetRawText()}",
        JsonValueKind.True => "true",
        JsonValueKind.False => "false",
        _ => "null",
    };

    /// <summary>
    /// The part of the schema at an evaluation path, references followed. The evaluation writes <c>items</c> twice into its paths, so what
    /// is not there is passed over.
    /// </summary>
    private JsonElement At(string path)
    {
        var at = _text;
        foreach (var segment in path.Split('/', StringSplitOptions.RemoveEmptyEntries))
        {
            if (at.ValueKind == JsonValueKind.Array)
            {
                at = at[int.Parse(segment, CultureInfo.InvariantCulture)];
            }
            else if (at.ValueKind == JsonValueKind.Object && at.TryGetProperty(segment, out var next))
            {
                at = segment == "$ref" ? At(next.GetString()!.TrimStart('#')) : next;
            }
        }

        return at;
    }
}

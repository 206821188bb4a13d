using System.Text.Json;
using Json.Schema;

namespace Acquire.Instruments.ProfileFiles;

/// <summary>Checks a profile against <c>device-profile.schema.json</c>, which is embedded.</summary>
internal static class ProfileSchema
{
    private static readonly JsonElement Text = JsonDocument.Parse(EmbeddedProfiles.Schema()).RootElement;
    private static readonly JsonSchema Schema = JsonSchema.FromText(EmbeddedProfiles.Schema());
    private static readonly EvaluationOptions Options = new() { OutputFormat = OutputFormat.List };

    /// <summary>Everything that the schema refuses, as pointer and message.</summary>
    public static IEnumerable<(string Pointer, string Message)> Check(JsonElement profile)
    {
        var results = Schema.Evaluate(profile, Options);
        if (results.IsValid)
        {
            return [];
        }

        var found = Leaves(results).Concat(Choices(profile)).Distinct().ToList();
        return found.Count > 0 ? found : [("", "The profile does not fit device-profile.schema.json.")];
    }

    /// <summary>Rules with both or none of template and pattern: the evaluation refuses them without a message of its own.</summary>
    private static IEnumerable<(string Pointer, string Message)> Choices(JsonElement profile)
    {
        if (profile.ValueKind != JsonValueKind.Object || !profile.TryGetProperty("lines", out var lines)
            || lines.ValueKind != JsonValueKind.Array)
        {
            yield break;
        }

        foreach (var (index, rule) in lines.EnumerateArray().Index())
        {
            if (rule.ValueKind == JsonValueKind.Object && rule.TryGetProperty("template", out _) == rule.TryGetProperty("pattern", out _))
            {
                yield return (FormattableString.Invariant($"/lines/{index}"), "Expected exactly one of template and pattern.");
            }
        }
    }

    private static IEnumerable<(string Pointer, string Message)> Leaves(EvaluationResults results) =>
        from result in (results.Details ?? []).Prepend(results)
        let path = result.EvaluationPath.ToString()
        // Branches of a choice fail by design.
        where !path.Contains("/oneOf/", StringComparison.Ordinal) && !path.EndsWith("/if", StringComparison.Ordinal)
        from error in result.Errors ?? new Dictionary<string, string>()
        let pointer = result.InstanceLocation.ToString()
        let message = Message(error.Key, error.Value, path, pointer)
        where message is not null
        select (pointer, message);

    private static string? Message(string keyword, string message, string path, string pointer) => keyword switch
    {
        "" when path.EndsWith("/additionalProperties", StringComparison.Ordinal) =>
            $"'{pointer[(pointer.LastIndexOf('/') + 1)..]}' is not known here; expected one of {Among(path)}.",
        "enum" => $"Expected one of {Join(At(path).GetProperty("enum").EnumerateArray().Select(e => e.ToString()))}.",
        "pattern" => At(path) is var part && part.TryGetProperty("description", out var said)
            ? $"Expected: {said.GetString()}"
            : "Expected printable characters without blanks at the ends.",
        // Parents only repeat that a child failed.
        "properties" or "items" or "additionalProperties" or "oneOf" or "then" or "else" or "$ref" or "if" => null,
        _ => message,
    };

    private static string Among(string path) =>
        Join(At(path[..path.LastIndexOf('/')]).GetProperty("properties").EnumerateObject().Select(p => p.Name).Where(n => n[0] != '$'));

    private static string Join(IEnumerable<string> words) => string.Join(", ", words);

    /// <summary>
    /// The part of the schema at an evaluation path, references followed. The evaluation writes <c>items</c> twice into its paths, so what
    /// is not there is passed over.
    /// </summary>
    private static JsonElement At(string path)
    {
        var at = Text;
        foreach (var segment in path.Split('/', StringSplitOptions.RemoveEmptyEntries))
        {
            if (at.TryGetProperty(segment, out var next))
            {
                at = segment == "$ref" ? At(next.GetString()!.TrimStart('#')) : next;
            }
        }

        return at;
    }
}

using System.Text.Json.Nodes;

namespace Acquire.Web.Tests.Api;

/// <summary>Every route once in a darkroom with a history, and its description held to what it gives.</summary>
public sealed class RoutesTests
{
    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Routes_answer_as_their_description_shows()
    {
        await using var darkroom = await Darkroom.OpenAsync(Token);
        var answers = new SortedDictionary<string, JsonNode?>(StringComparer.Ordinal);
        var unlike = new List<string>();
        foreach (var (path, method, operation) in Darkroom.Operations(darkroom.Description))
        {
            var name = operation["operationId"]!.GetValue<string>();
            if (IsLive(operation))
            {
                continue;
            }

            var media = operation["responses"]!.AsObject().First(r => r.Key.StartsWith('2')).Value!["content"]!.AsObject();
            var answer = method == "post" ? darkroom.Answers[name] : await AskAsync(darkroom, path, name);
            if (answer is not null)
            {
                answers[name] = Shortened(answer, darkroom.Service.Folder);
                var shown = media.First().Value!["example"];
                unlike.AddRange(shown is null ? [$"{name} has no example"] : Differences(name, answers[name], shown));
            }
        }

        await Golden.HoldAsync(
            unlike, "src/Acquire.Web/Api/answers.json", new JsonObject(answers.Select(a => KeyValuePair.Create(a.Key, a.Value))), Token);
    }

    /// <summary>What is known of sessions and instruments at this moment is tried where instruments are.</summary>
    private static bool IsLive(JsonObject operation) => operation["tags"]![0]!.GetValue<string>() is "sessions" or "instruments";

    /// <summary>A true answer; null where it is no JSON, which is looked at here.</summary>
    private static async Task<JsonNode?> AskAsync(Darkroom darkroom, string path, string name)
    {
        var asked = path
            .Replace("{id}", darkroom.Strips[1], StringComparison.Ordinal)
            .Replace("{code}", name is "compareLots" ? "2431" : "2417", StringComparison.Ordinal)
            .Replace("{key}", "c41", StringComparison.Ordinal)
            .Replace("{name}", NameIn(path), StringComparison.Ordinal) + name switch
            {
                "compareLots" => "?from=2417",
                "showStripsTogether" => $"?id={darkroom.Strips[1]}&id={darkroom.Strips[2]}",
                "listStrips" => "?limit=3",
                _ => "",
            };
        using var answer = await darkroom.Service.Client.GetAsync(asked, Token);
        var text = await answer.Content.ReadAsStringAsync(Token);
        if (name == "showRechecks")
        {
            // Nothing of the kind can be brought in by requests: it is read at the instrument.
            Assert.Equal(422, (int)answer.StatusCode);
            return null;
        }

        Assert.True(answer.IsSuccessStatusCode, $"{asked}: {(int)answer.StatusCode} {text}");
        return answer.Content.Headers.ContentType!.MediaType == "application/json" ? JsonNode.Parse(text) : null;
    }

    private static string NameIn(string path) => path switch
    {
        _ when path.Contains("/plaques/", StringComparison.Ordinal) => "plaque%201",
        _ when path.Contains("/lines/", StringComparison.Ordinal) => "dip%20tank",
        _ when path.Contains("/solutions/", StringComparison.Ordinal) => "dev12",
        _ when path.Contains("/bottles/", StringComparison.Ordinal) => "D7",
        _ => "bench%20densitometer",
    };

    /// <summary>The first of every list, and no folder of this computer.</summary>
    private static JsonNode? Shortened(JsonNode? node, string folder) => node switch
    {
        JsonObject o => new JsonObject(o.Select(p => KeyValuePair.Create(p.Key, Shortened(p.Value, folder)))),
        JsonArray a => new JsonArray([.. a.Take(1).Select(i => Shortened(i, folder))]),
        JsonValue v when v.TryGetValue<string>(out var text) => text.Replace(folder, "DATA", StringComparison.Ordinal),
        _ => node?.DeepClone(),
    };

    /// <summary>Where two answers have other properties; what is null or empty in one of them tells nothing.</summary>
    private static IEnumerable<string> Differences(string place, JsonNode? one, JsonNode? other) => (one, other) switch
    {
        (JsonObject a, JsonObject b) when place.EndsWith(".contents", StringComparison.Ordinal) => [],
        (JsonObject a, JsonObject b) => a.Select(p => p.Key).SequenceEqual(b.Select(p => p.Key))
            ? a.SelectMany(p => Differences($"{place}.{p.Key}", p.Value, b[p.Key]))
            : [$"{place}: {string.Join(",", a.Select(p => p.Key))} is not {string.Join(",", b.Select(p => p.Key))}"],
        (JsonArray { Count: > 0 } a, JsonArray { Count: > 0 } b) => Differences($"{place}[]", a[0], b[0]),
        (null, _) or (_, null) or (JsonArray, JsonArray) => [],
        _ => one.GetValueKind() == other.GetValueKind() || place.EndsWith("ound", StringComparison.Ordinal)
            ? []
            : [$"{place}: {one.GetValueKind()} is not {other.GetValueKind()}"],
    };
}

using System.Text.Json.Nodes;

namespace Acquire.Web.Tests.Api;

/// <summary>The OpenAPI document: a change of it is a change of a contract, and is made on purpose.</summary>
public sealed class DescriptionTests
{
    private const string File = "tests/Acquire.Web.Tests/openapi.json";

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Fact]
    public async Task The_description_is_the_one_that_is_kept()
    {
        await using var service = await RunningService.StartAsync(Token);
        var served = JsonNode.Parse(await service.Client.GetStringAsync("/openapi/v1.json", Token))!;
        var now = Golden.Write(served).Split('\n');
        var kept = System.IO.File.Exists(Golden.PathOf(File)) ? await System.IO.File.ReadAllLinesAsync(Golden.PathOf(File), Token) : [];
        var unlike = now.Zip([.. kept, .. Enumerable.Repeat("", Math.Max(0, now.Length - kept.Length))])
            .Index().Where(l => l.Item.First != l.Item.Second)
            .Select(l => $"line {l.Index + 1}: now '{l.Item.First.Trim()}', kept '{l.Item.Second.Trim()}'")
            .Take(5)
            .ToList();
        await Golden.HoldAsync(
            unlike.Count == 0 && kept.Length > now.Length ? [$"kept has {kept.Length} lines, now {now.Length}"] : unlike,
            File, served, Token);
    }

    [Fact]
    public async Task Everything_is_described_with_a_summary_a_tag_examples_and_its_problems()
    {
        await using var service = await RunningService.StartAsync(Token);
        var description = JsonNode.Parse(await service.Client.GetStringAsync("/openapi/v1.json", Token))!.AsObject();
        var lacking = new List<string>();
        foreach (var (path, method, operation) in Darkroom.Operations(description))
        {
            var name = $"{method} {path}";
            void Need(bool there, string what) => lacking.AddRange(there ? [] : [$"{name} lacks {what}"]);
            Need(operation["operationId"] is not null, "a name");
            Need(operation["summary"]?.GetValue<string>() is { Length: > 10 }, "a summary");
            Need(operation["tags"]?.AsArray().Count == 1, "a tag");
            Need(operation["requestBody"]?["content"]?["application/json"] is not { } body || body["example"] is not null,
                "an example of its body");
            var responses = operation["responses"]!.AsObject();
            Need(responses.Any(r => r.Key.StartsWith('2')), "an answer");
            Need(
                responses.Where(r => r.Key.StartsWith('2')).SelectMany(r => r.Value!["content"]?.AsObject() ?? [])
                    .All(m => m.Key != "application/json" || m.Value!["example"] is not null || TakesAnInstrument(path)),
                "an example of its answer");
            Need(path.EndsWith("/service", StringComparison.Ordinal) || (responses.ContainsKey("401") && responses.ContainsKey("400")),
                "its problems");
        }

        Assert.Empty(lacking);
    }

    /// <summary>Whether no answer can be had without an instrument that reads, so that none is shown.</summary>
    private static bool TakesAnInstrument(string path) => path.EndsWith("/rechecks", StringComparison.Ordinal)
        || path.Contains("/sessions", StringComparison.Ordinal) || path.Contains("/instruments", StringComparison.Ordinal);
}

using System.Collections.Concurrent;
using System.Net;
using System.Net.Http.Headers;
using System.Text;
using System.Text.Json.Nodes;

namespace Acquire.Web.Tests.Api;

/// <summary>
/// Every route of the description under what no honest client sends, from a fixed seed: it answers, or it refuses with a problem document,
/// and never with a fault of its own.
/// </summary>
public sealed class FuzzTests
{
    private const int Seed = 41;
    private const long MostMemory = 200 * 1024 * 1024;

    private static readonly string[] Insides = ["   at ", "System.", "Acquire.", "Microsoft.", "Exception", "SQLite", "<html"];

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Fact]
    [Trait("speed", "slow")]
    public async Task Hostile_requests_are_refused_and_nothing_breaks()
    {
        await using var darkroom = await Darkroom.OpenAsync(Token);
        var requests = Requests(darkroom).ToList();
        var wrong = new ConcurrentBag<string>();
        var before = GC.GetTotalMemory(forceFullCollection: true);
        await Parallel.ForEachAsync(
            requests,
            new ParallelOptions { MaxDegreeOfParallelism = 4, CancellationToken = Token },
            async (make, token) =>
            {
                using var request = make();
                using var answer = await darkroom.Service.Client.SendAsync(request, token);
                if (Wrong(answer, await answer.Content.ReadAsStringAsync(token)) is { } why)
                {
                    var body = request.Content is { } content ? await content.ReadAsStringAsync(token) : "";
                    wrong.Add($"{request.Method} {Short(request.RequestUri!.ToString())} {Short(body)}: {why}");
                }
            });
        Assert.True(wrong.IsEmpty, $"{wrong.Count} of {requests.Count}:\n{string.Join('\n', wrong.Take(25))}");
        Assert.InRange(requests.Count, 1_000, 10_000);
        Assert.InRange(GC.GetTotalMemory(forceFullCollection: true) - before, long.MinValue, MostMemory);

        // It lives, and what was there is there.
        Assert.Equal(24, (await darkroom.GetAsync("/api/v1/strips?limit=1000", Token))["items"]!.AsArray().Count);
        Assert.True((await darkroom.GetAsync("/api/v1/verify", Token))["sound"]!.GetValue<bool>());
    }

    private static string? Wrong(HttpResponseMessage answer, string text)
    {
        if (answer.IsSuccessStatusCode)
        {
            return null;
        }

        if ((int)answer.StatusCode is < 400 or >= 500 || answer.Content.Headers.ContentType?.MediaType != "application/problem+json")
        {
            // The server itself refuses a path that no address can have, before any program of ours sees it.
            return answer.StatusCode == HttpStatusCode.BadRequest && text.Length == 0
                ? null
                : $"{(int)answer.StatusCode} {answer.Content.Headers.ContentType} {Short(text)}";
        }

        var problem = JsonNode.Parse(text)!;
        var detail = problem["detail"]?.GetValue<string>() ?? "";
        return problem["status"]?.GetValue<int>() != (int)answer.StatusCode || detail.Length == 0 ? $"no problem document: {Short(text)}"
            : text.Length > 10_000 ? $"{text.Length} bytes of a problem"
            : Array.Find(Insides, i => detail.Contains(i, StringComparison.Ordinal)) is { } inside ? $"tells '{inside}': {Short(detail)}"
            : null;
    }

    private static IEnumerable<Func<HttpRequestMessage>> Requests(Darkroom darkroom)
    {
        var chance = new Random(Seed);
        var at = darkroom.Service.Client.BaseAddress!.GetLeftPart(UriPartial.Authority);
        foreach (var (path, method, operation) in Darkroom.Operations(darkroom.Description))
        {
            var verb = new HttpMethod(method.ToUpperInvariant());
            var good = Known(darkroom, path);
            var parameters = operation["parameters"]?.AsArray().Select(p => p!.AsObject()).ToList() ?? [];
            foreach (var parameter in parameters.Where(p => p["in"]!.GetValue<string>() == "path"))
            {
                foreach (var hostile in Hostile.PathValues)
                {
                    var asked = path.Replace($"{{{parameter["name"]}}}", hostile, StringComparison.Ordinal);
                    yield return Make(at, verb, Known(darkroom, asked), operation["requestBody"] is null ? null : "{}"u8.ToArray());
                }
            }

            // A backup copies the store, so a few do.
            if (method == "get")
            {
                foreach (var parameter in parameters.Where(p => p["in"]!.GetValue<string>() == "query"))
                {
                    foreach (var hostile in chance.GetItems(Hostile.QueryValues, 3))
                    {
                        yield return Make(at, verb, $"{good}?{parameter["name"]}={hostile}", null);
                    }
                }

                continue;
            }

            yield return Make(at, verb, good, "{}"u8.ToArray(), "text/plain");
            foreach (var body in Hostile.Bodies.Take(path.EndsWith("/backups", StringComparison.Ordinal) ? 3 : 20))
            {
                yield return Make(at, verb, good, body);
            }

            if (operation["requestBody"]?["content"]?["application/json"]?["example"] is JsonObject example)
            {
                foreach (var body in Hostile.Mutations(example, chance, 24))
                {
                    yield return Make(at, verb, good, Encoding.UTF8.GetBytes(body));
                }
            }
        }
    }

    /// <summary>The path with names that are known for the parameters that are left.</summary>
    private static string Known(Darkroom darkroom, string path) => path
        .Replace("{id}", darkroom.Strips[3], StringComparison.Ordinal)
        .Replace("{code}", "2417", StringComparison.Ordinal)
        .Replace("{key}", "c41", StringComparison.Ordinal)
        .Replace("{name}", path.Contains("lines", StringComparison.Ordinal) ? "dip%20tank" : "D7", StringComparison.Ordinal);

    private static Func<HttpRequestMessage> Make(
        string at, HttpMethod verb, string path, byte[]? body, string kind = "application/json") => () =>
    {
        // As it stands, so that dots reach the service.
        var uri = new Uri(at + path, new UriCreationOptions { DangerousDisablePathAndQueryCanonicalization = true });
        var request = new HttpRequestMessage(verb, uri);
        if (body is not null)
        {
            request.Content = new ByteArrayContent(body);
            request.Content.Headers.ContentType = new MediaTypeHeaderValue(kind);
            request.Headers.ExpectContinue = body.Length > 1_000_000;
        }

        return request;
    };

    private static string Short(string text) => text.Length > 300 ? text[..300] + "…" : text;
}

using System.Net.Http.Json;
using System.Net.ServerSentEvents;
using System.Text.Json;
using Acquire.Bench.Tests.Support;

namespace Acquire.Web.Tests.Support;

/// <summary>A service with one instrument whose bytes the test writes, asked over HTTP alone.</summary>
internal sealed class ServedBench : IAsyncDisposable
{
    /// <summary>What the instrument sends of a patch.</summary>
    public const string Reading = "R 0.26 G 0.62 B 0.80\r\n";

    private ServedBench(RunningService service, ScriptedLink link) => (Service, Link) = (service, link);

    public RunningService Service { get; }

    public ScriptedLink Link { get; }

    public HttpClient Client => Service.Client;

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public static async Task<ServedBench> StartAsync()
    {
        var link = new ScriptedLink();
        var service = await RunningService.StartAsync(Token, options => options.MostRequestsInTenSeconds = 100_000, link);
        var bench = new ServedBench(service, link);
        using var added = await bench.Client.PostAsJsonAsync(
            "/api/v1/instruments", new { name = "bench", port = "tcp:bench:1", profile = "labelled-line" }, Token);
        Assert.Equal(System.Net.HttpStatusCode.Created, added.StatusCode);
        return bench;
    }

    /// <summary>Begins a repeatability test, which needs no lot; gives its path.</summary>
    public async Task<string> BeginAsync(int patches = 2)
    {
        using var begun = await Client.PostAsJsonAsync("/api/v1/sessions", Request("bench", patches), Token);
        Assert.True(begun.IsSuccessStatusCode, await begun.Content.ReadAsStringAsync(Token));
        return begun.Headers.Location!.ToString();
    }

    /// <summary>What begins a repeatability test.</summary>
    public static object Request(string instrument, int patches = 2) => new
    {
        purpose = "repeatability",
        instrument,
        readsPerPatch = 50,
        specification = 0.01,
        patches = Enumerable.Range(1, patches).Select(n => $"p{n}"),
    };

    /// <summary>The instrument sends readings, each by itself; returns when the session has them.</summary>
    public async Task ReadAsync(string session, int count = 1)
    {
        var wanted = ReadsOf(await Client.GetFromJsonAsync<JsonElement>(session, Token)) + count;
        for (var n = 0; n < count; n++)
        {
            Link.Send(Reading);
        }

        while (ReadsOf(await Client.GetFromJsonAsync<JsonElement>(session, Token)) < wanted)
        {
            await Task.Delay(TimeSpan.FromMilliseconds(20), TimeProvider.System, Token);
        }
    }

    public Task<HttpResponseMessage> CommandAsync(string session, string command, int? sequence) =>
        Client.PostAsJsonAsync(session + "/commands", new { command, sequence }, Token);

    /// <summary>Opens a stream of a session's events; its headers have come.</summary>
    public static Task<HttpResponseMessage> WatchAsync(HttpClient client, string session) =>
        client.GetAsync(session + "/events", HttpCompletionOption.ResponseHeadersRead, Token);

    /// <summary>The events of a stream, as they come.</summary>
    public static async IAsyncEnumerable<SseItem<JsonElement>> EventsAsync(HttpResponseMessage answer)
    {
        await using var stream = await answer.Content.ReadAsStreamAsync(Token);
        await foreach (var happened in SseParser.Create(stream, (_, data) => JsonSerializer.Deserialize<JsonElement>(data))
            .EnumerateAsync(Token))
        {
            yield return happened;
        }
    }

    public static int ReadsOf(JsonElement session) =>
        session.GetProperty("patches").EnumerateArray().Sum(p => p.GetProperty("reads").GetArrayLength());

    public ValueTask DisposeAsync() => Service.DisposeAsync();
}

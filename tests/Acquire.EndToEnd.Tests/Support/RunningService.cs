using System.Net.Http.Headers;
using System.Net.Http.Json;
using System.Text.Json;
using System.Text.RegularExpressions;

namespace Acquire.EndToEnd.Tests.Support;

/// <summary>The service as its own process, and a client that shares no code with it.</summary>
internal sealed class RunningService : IAsyncDisposable
{
    // Only what hangs takes so long; a busy machine does not.
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(100);

    private readonly HttpClient _client;

    private RunningService(RunningProgram program, string url, string token)
    {
        (Program, Url, SecretToken) = (program, url, token);
        _client = Client();
    }

    public RunningProgram Program { get; }

    public string Url { get; }

    public string SecretToken { get; }

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    /// <summary>Starts it on a data folder and waits until it listens.</summary>
    public static async Task<RunningService> StartAsync(Darkroom darkroom, params IEnumerable<string> options)
    {
        var program = darkroom.Start(["serve", "--url", "http://127.0.0.1:0", .. options]);
        await program.UntilAsync(() => Regex.IsMatch(program.Out, "^Listening on .+$", RegexOptions.Multiline), "a line 'Listening on'");
        var said = JsonDocument.Parse(await File.ReadAllTextAsync(Path.Combine(darkroom.Data, "service.json"), Token)).RootElement;
        Assert.Equal(program.Id, said.GetProperty("pid").GetInt32());
        var url = Regex.Match(program.Out, "Listening on (.+)").Groups[1].Value.Trim();
        return new RunningService(program, url, said.GetProperty("token").GetString()!);
    }

    /// <summary>A client of its own, as another program would be.</summary>
    public HttpClient Client()
    {
        var client = new HttpClient { BaseAddress = new Uri(Url), Timeout = Patience };
        client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", SecretToken);
        return client;
    }

    public async Task<JsonElement> GetAsync(string path)
    {
        using var answer = await _client.GetAsync($"/api/v1/{path}", Token);
        var text = await answer.Content.ReadAsStringAsync(Token);
        Assert.True(answer.IsSuccessStatusCode, $"{path}: {(int)answer.StatusCode} {text}");
        return JsonDocument.Parse(text).RootElement;
    }

    public async Task<(int Code, JsonElement Body)> PostAsync(string path, object body)
    {
        using var answer = await _client.PostAsJsonAsync($"/api/v1/{path}", body, Token);
        return ((int)answer.StatusCode, JsonDocument.Parse(await answer.Content.ReadAsStringAsync(Token)).RootElement);
    }

    /// <summary>Adds an instrument that is read by the labelled line.</summary>
    public async Task AddInstrumentAsync(string name, string port)
    {
        var (code, body) = await PostAsync("instruments", new { name, port, profile = "labelled-line" });
        Assert.True(code == 201, $"{code} {body}");
    }

    /// <summary>Begins a strip and gives the session.</summary>
    public async Task<JsonElement> BeginStripAsync(string instrument, int reads, string[]? loose = null, double? keepAfter = null)
    {
        var (code, session) = await PostAsync(
            "sessions",
            new { purpose = "strip", instrument, lot = Darkroom.Lot, line = "dip tank", readsPerPatch = reads, loose, keepAfter });
        Assert.True(code == 201, $"{code} {session}");
        return session;
    }

    public Task<JsonElement> SessionAsync(JsonElement session) => GetAsync($"sessions/{session.GetProperty("id").GetString()}");

    /// <summary>Waits until what a path gives is as it should be, and gives it.</summary>
    public async Task<JsonElement> UntilAsync(string path, Func<JsonElement, bool> condition, string what)
    {
        var begun = TimeProvider.System.GetTimestamp();
        while (true)
        {
            var now = await GetAsync(path);
            if (condition(now))
            {
                return now;
            }

            Assert.True(
                TimeProvider.System.GetElapsedTime(begun) < Patience, $"Waited for {what}.\nNow: {now}\nError: {Program.Error}");
            await Task.Delay(TimeSpan.FromMilliseconds(30), TimeProvider.System, Token);
        }
    }

    /// <summary>Waits until a session asks for a read, as "ld 2".</summary>
    public Task<JsonElement> NextAsync(JsonElement session, string next) => UntilAsync(
        $"sessions/{session.GetProperty("id").GetString()}", s => Next(s) == next, $"read {next}");

    public Task<JsonElement> CompletedAsync(JsonElement session) => UntilAsync(
        $"sessions/{session.GetProperty("id").GetString()}", s => State(s) == "completed", "completed");

    /// <summary>Waits until the link of an instrument is in a state.</summary>
    public async Task<JsonElement> LinkAsync(string instrument, string link) => (await UntilAsync(
        $"instruments/{instrument}", i => i.GetProperty("live").GetProperty("link").GetString() == link, $"{instrument} {link}"))
        .GetProperty("live");

    public static string State(JsonElement session) => session.GetProperty("state").GetString()!;

    public static string? Next(JsonElement session) => session.GetProperty("next") is { ValueKind: JsonValueKind.Object } next
        ? $"{next.GetProperty("patch").GetString()} {next.GetProperty("read").GetInt32()}"
        : null;

    /// <summary>The raw lines of all reads of a session, in the order of the patches.</summary>
    public static IEnumerable<string> Lines(JsonElement session) => session.GetProperty("patches").EnumerateArray()
        .SelectMany(p => p.GetProperty("reads").EnumerateArray())
        .SelectMany(r => r.GetProperty("lines").EnumerateArray())
        .Select(l => l.GetString()!);

    public ValueTask DisposeAsync()
    {
        _client.Dispose();
        return Program.DisposeAsync();
    }
}

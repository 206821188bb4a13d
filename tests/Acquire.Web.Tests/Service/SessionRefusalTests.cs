using System.Net;
using System.Net.Http.Json;
using System.Text;
using System.Text.Json;

namespace Acquire.Web.Tests.Service;

/// <summary>What a session refuses, and whether a client can see why and go on.</summary>
public sealed class SessionRefusalTests : IAsyncLifetime
{
    private ServedBench _bench = null!;

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public async ValueTask InitializeAsync() => _bench = await ServedBench.StartAsync();

    public ValueTask DisposeAsync() => _bench.DisposeAsync();

    [Theory]
    [InlineData("GET", "")]
    [InlineData("GET", "/events")]
    [InlineData("POST", "/commands")]
    [InlineData("POST", "/resume")]
    public async Task An_unknown_session_is_named(string method, string route)
    {
        var id = Guid.Parse("0197a2c0-0000-7000-8000-000000000001");
        using var request = new HttpRequestMessage(new HttpMethod(method), $"/api/v1/sessions/{id}{route}");
        var body = route == "/commands" ? "{\"command\":\"undo\",\"sequence\":1}" : "{}";
        request.Content = method == "POST" ? new StringContent(body, Encoding.UTF8, "application/json") : null;
        using var answer = await _bench.Client.SendAsync(request, Token);
        var problem = await ProblemAsync(answer, HttpStatusCode.NotFound);
        Assert.Contains(id.ToString(), problem.GetProperty("detail").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_session_that_is_over_is_shown_as_it_ended_and_takes_no_command()
    {
        var session = await _bench.BeginAsync();
        await _bench.ReadAsync(session);
        using var cancelled = await _bench.CommandAsync(session, "cancel", sequence: null);
        Assert.Equal(HttpStatusCode.OK, cancelled.StatusCode);

        using var watched = await ServedBench.WatchAsync(_bench.Client, session);
        var last = await ServedBench.EventsAsync(watched).LastAsync(Token);
        Assert.Equal("over", last.EventType);

        var now = await _bench.Client.GetFromJsonAsync<JsonElement>(session, Token);
        Assert.Equal("cancelled", now.GetProperty("state").GetString());
        using var undone = await _bench.CommandAsync(session, "undo", now.GetProperty("sequence").GetInt32());
        var problem = await ProblemAsync(undone, HttpStatusCode.Conflict);
        Assert.Equal("It is over.", problem.GetProperty("detail").GetString());
        Assert.Equal("cancelled", problem.GetProperty("session").GetProperty("state").GetString());
    }

    [Fact]
    public async Task A_stale_command_does_nothing_and_tells_what_has_happened_since()
    {
        var session = await _bench.BeginAsync();
        var seen = (await _bench.Client.GetFromJsonAsync<JsonElement>(session, Token)).GetProperty("sequence").GetInt32();
        await _bench.ReadAsync(session);
        using var stale = await _bench.CommandAsync(session, "undo", seen);
        var problem = await ProblemAsync(stale, HttpStatusCode.Conflict);
        var now = problem.GetProperty("session");
        Assert.Equal(1, ServedBench.ReadsOf(now));
        Assert.True(now.GetProperty("sequence").GetInt32() > seen);
        Assert.Contains(problem.GetProperty("since").EnumerateArray(), e => ServedBench.ReadsOf(e.GetProperty("session")) == 1);

        // Said again of what is there now, it is done.
        using var done = await _bench.CommandAsync(session, "undo", now.GetProperty("sequence").GetInt32());
        Assert.Equal(HttpStatusCode.OK, done.StatusCode);
        var next = (await done.Content.ReadFromJsonAsync<JsonElement>(Token)).GetProperty("next");
        Assert.Equal(("p1", 1), (next.GetProperty("patch").GetString(), next.GetProperty("read").GetInt32()));
    }

    [Fact]
    public async Task An_instrument_that_is_not_read_or_is_read_already_begins_no_session()
    {
        using var unknown = await _bench.Client.PostAsJsonAsync("/api/v1/sessions", ServedBench.Request("somebody else's"), Token);
        var problem = await ProblemAsync(unknown, HttpStatusCode.UnprocessableEntity);
        Assert.Contains("somebody else's", problem.GetProperty("detail").GetString(), StringComparison.Ordinal);
        Assert.Contains("bench", problem.GetProperty("detail").GetString(), StringComparison.Ordinal);

        var session = await _bench.BeginAsync();
        using var second = await _bench.Client.PostAsJsonAsync("/api/v1/sessions", ServedBench.Request("bench"), Token);
        problem = await ProblemAsync(second, HttpStatusCode.UnprocessableEntity);
        Assert.Contains("A session reads with bench", problem.GetProperty("detail").GetString(), StringComparison.Ordinal);

        // The one that goes on is not touched by it.
        await _bench.ReadAsync(session);
    }

    [Theory]
    [InlineData("", 400)]
    [InlineData("null", 400)]
    [InlineData("[]", 400)]
    [InlineData("{\"command\":", 400)]
    [InlineData("{\"command\":7,\"sequence\":1}", 400)]
    [InlineData("{\"command\":\"undo\"}", 422)]
    [InlineData("{\"command\":\"undo\",\"sequence\":\"1\"}", 400)]
    [InlineData("{\"command\":\"undo\",\"sequence\":99999999999}", 400)]
    [InlineData("{\"command\":\"rewind\",\"sequence\":1}", 422)]
    [InlineData("{\"command\":\"leaveOutRead\",\"sequence\":1,\"reason\":\"\\u0007\"}", 422)]
    [InlineData("{\"sequence\":1}", 422)]
    public async Task A_command_that_is_none_does_nothing(string body, int status)
    {
        var session = await _bench.BeginAsync();
        using var answer = await _bench.Client.PostAsync(
            session + "/commands", new StringContent(body, Encoding.UTF8, "application/json"), Token);
        _ = await ProblemAsync(answer, (HttpStatusCode)status);
        Assert.Equal("reading", (await _bench.Client.GetFromJsonAsync<JsonElement>(session, Token)).GetProperty("state").GetString());
    }

    [Theory]
    [InlineData("-1")]
    [InlineData("yesterday")]
    [InlineData("99999999999999999999")]
    public async Task A_stream_is_gone_on_with_from_a_number_only(string lastEventId)
    {
        var session = await _bench.BeginAsync();
        using var request = new HttpRequestMessage(HttpMethod.Get, session + "/events");
        request.Headers.Add("Last-Event-ID", lastEventId);
        using var answer = await _bench.Client.SendAsync(request, Token);
        _ = await ProblemAsync(answer, HttpStatusCode.UnprocessableEntity);
    }

    private static async Task<JsonElement> ProblemAsync(HttpResponseMessage answer, HttpStatusCode status)
    {
        var text = await answer.Content.ReadAsStringAsync(Token);
        Assert.True(status == answer.StatusCode, $"{answer.StatusCode}: {text}");
        Assert.Equal("application/problem+json", answer.Content.Headers.ContentType?.MediaType);
        return JsonSerializer.Deserialize<JsonElement>(text);
    }
}

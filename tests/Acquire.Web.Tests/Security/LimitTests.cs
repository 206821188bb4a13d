using System.Net;
using System.Text;
using Acquire.Web.Hosting;
using Acquire.Web.Security;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;

namespace Acquire.Web.Tests.Security;

public class LimitTests
{
    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData("/json", HttpStatusCode.RequestEntityTooLarge)]
    [InlineData("/file", HttpStatusCode.OK)]
    public async Task A_body_of_JSON_is_small_and_a_file_may_be_large(string path, HttpStatusCode status)
    {
        await using var service = await RunningService.StartAsync(Token, options => options.MostRequestBytes = 4_000_000, more: MapBodies);
        var body = $"{{\"name\":\"{new string('x', 2_000_000)}\"}}";
        var answer = await service.Client.PostAsync(path, new StringContent(body, Encoding.UTF8, "application/json"), Token);
        Assert.Equal(status, answer.StatusCode);
    }

    [Theory]
    [InlineData("/json", false)]
    [InlineData("/json", true)]
    [InlineData("/file", false)]
    [InlineData("/file", true)]
    public async Task A_body_that_is_too_large_is_told_so_however_it_comes(string path, bool chunked)
    {
        await using var service = await RunningService.StartAsync(Token, options => options.MostRequestBytes = 3_000_000, more: MapBodies);
        using var request = new HttpRequestMessage(HttpMethod.Post, path)
        {
            Content = new StringContent($"{{\"name\":\"{new string('x', 3_100_000)}\"}}", Encoding.UTF8, "application/json"),
        };
        request.Headers.TransferEncodingChunked = chunked;
        request.Headers.ExpectContinue = true;
        var answer = await service.Client.SendAsync(request, Token);
        Assert.Equal(HttpStatusCode.RequestEntityTooLarge, answer.StatusCode);
        Assert.Equal("application/problem+json", answer.Content.Headers.ContentType?.MediaType);
    }

    [Theory]
    [InlineData("GET /health/live HTTP/1.1\r\nHost: localhost\r\nX-Long: LONG\r\n\r\n", "HTTP/1.1 431 ")]
    [InlineData("GET /LONG HTTP/1.1\r\nHost: localhost\r\n\r\n", "HTTP/1.1 414 ")]
    [InlineData("GET /health/live HTTP/1.1\r\nHost: localhost\r\nMANY\r\n", "HTTP/1.1 431 ")]
    [InlineData("\u0016\u0003\u0001 no HTTP at all\r\n\r\n", "HTTP/1.1 400 ")]
    public async Task Headers_without_end_are_refused(string request, string begins)
    {
        await using var service = await RunningService.StartAsync(Token);
        var many = string.Concat(Enumerable.Range(0, 100).Select(n => $"X-{n}: y\r\n"));
        var sent =
            request.Replace("LONG", new string('x', 20_000), StringComparison.Ordinal).Replace("MANY\r\n", many, StringComparison.Ordinal);
        Assert.StartsWith(begins, await RawHttp.AskAsync(service.Address, sent, Token), StringComparison.Ordinal);
        Assert.Equal("alive", await service.Client.GetStringAsync("/health/live", Token));
    }

    [Fact]
    public async Task Clients_that_send_a_byte_now_and_then_are_cut_off_and_keep_nobody_out()
    {
        await using var service = await RunningService.StartAsync(Token, options => options.SecondsForHeaders = 1);
        using var end = CancellationTokenSource.CreateLinkedTokenSource(Token);
        end.CancelAfter(TimeSpan.FromSeconds(20));
        var slow = Enumerable.Range(0, 50).Select(async _ =>
        {
            using var raw = await RawHttp.ConnectAsync(service.Address, end.Token);
            await raw.SendAsync("GET /health/live HTTP/1.1\r\n", end.Token);
            var ended = raw.RestAsync(end.Token);
            for (var n = 0; !ended.IsCompleted; n++)
            {
                await Task.WhenAny(ended, Task.Delay(TimeSpan.FromMilliseconds(200), TimeProvider.System, end.Token));
                try
                {
                    await raw.SendAsync($"X-{n}: y\r\n", end.Token);
                }
                catch (System.Net.Sockets.SocketException)
                {
                    break;
                }
            }

            return await ended;
        }).ToList();
        Assert.Equal("alive", await service.Client.GetStringAsync("/health/live", Token));
        Assert.All(await Task.WhenAll(slow), answer => Assert.True(
            answer.Length == 0 || answer.StartsWith("HTTP/1.1 408 ", StringComparison.Ordinal), answer));
    }

    [Fact]
    [Trait("speed", "slow")]
    public async Task A_body_that_trickles_is_cut_off()
    {
        await using var service = await RunningService.StartAsync(Token, more: MapBodies);
        using var raw = await RawHttp.ConnectAsync(service.Address, Token);
        await raw.SendAsync(
            $"POST /json HTTP/1.1\r\nHost: localhost\r\nAuthorization: Bearer {RunningService.Token}\r\n"
            + "Content-Type: application/json\r\nContent-Length: 100000\r\n\r\n{",
            Token);
        using var end = CancellationTokenSource.CreateLinkedTokenSource(Token);
        end.CancelAfter(TimeSpan.FromSeconds(30));
        Assert.StartsWith("HTTP/1.1 408 ", await raw.RestAsync(end.Token), StringComparison.Ordinal);
    }

    [Fact]
    [Trait("speed", "slow")]
    public async Task A_client_that_does_not_take_what_it_asked_for_is_cut_off()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "There is no socket in the file system.");
        var cut = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        await using var service = await RunningService.StartAsync(Token, more: app => app.MapGet("/much", async (HttpContext context) =>
        {
            context.RequestAborted.Register(() => cut.TrySetResult());
            while (!context.RequestAborted.IsCancellationRequested)
            {
                await context.Response.Body.WriteAsync(new byte[64 * 1024], CancellationToken.None);
            }
        }).WithRoles());

        // The system keeps less for a socket in the file system than for one of the network, so that the service waits sooner.
        using var raw = await RawHttp.ConnectAsync(ServiceHost.FileOf(service.App, RunningService.Token).Socket!, Token);
        await raw.SendAsync($"GET /much HTTP/1.1\r\nHost: localhost\r\nAuthorization: Bearer {RunningService.Token}\r\n\r\n", Token);
        await cut.Task.WaitAsync(TimeSpan.FromSeconds(60), TimeProvider.System, Token);
    }

    [Fact]
    public async Task A_flood_of_requests_is_told_to_wait()
    {
        await using var service = await RunningService.StartAsync(Token, options => options.MostRequestsInTenSeconds = 20);
        var answers = new List<HttpResponseMessage>();
        for (var n = 0; n < 40; n++)
        {
            answers.Add(await service.Client.GetAsync("/api/v1/service", Token));
        }

        // A window of ten seconds may end in between.
        Assert.InRange(answers.Count(a => a.StatusCode == HttpStatusCode.OK), 20, 40);
        var refused = answers.First(a => a.StatusCode != HttpStatusCode.OK);
        Assert.Equal(HttpStatusCode.TooManyRequests, refused.StatusCode);
        Assert.InRange(refused.Headers.RetryAfter!.Delta!.Value.TotalSeconds, 1, 10);
        _ = await RoleTests.ProblemAsync(refused);
    }

    [Fact]
    public async Task Only_so_many_streams_are_open()
    {
        await using var service = await RunningService.StartAsync(
            Token,
            options => options.MostEventStreams = 3,
            more: app => app.MapGet("/stream", StayAsync).WithRoles().RequireRateLimiting(Limits.Streams));
        var open = new List<HttpResponseMessage>();
        for (var n = 0; n < 4; n++)
        {
            open.Add(await service.Client.GetAsync("/stream", HttpCompletionOption.ResponseHeadersRead, Token));
        }

        Assert.Equal([200, 200, 200, 429], open.Select(a => (int)a.StatusCode));
        open.ForEach(a => a.Dispose());
    }

    /// <summary>Settings out of bounds are told when it starts, all at once.</summary>
    [Fact]
    public async Task A_bound_that_is_none_is_refused()
    {
        var fault = await Assert.ThrowsAsync<BenchException>(() => RunningService.StartAsync(
            Token, options => (options.MostRequestBytes, options.SecondsForHeaders) = (1, 0)));
        Assert.Contains("MostRequestBytes", fault.Message, StringComparison.Ordinal);
        Assert.Contains("SecondsForHeaders", fault.Message, StringComparison.Ordinal);
    }

    private static void MapBodies(WebApplication app)
    {
        app.MapPost("/json", (Named body) => body.Name.Length).WithRoles().WithBodyLimits();
        app.MapPost("/file", async (HttpRequest request) =>
        {
            await request.Body.CopyToAsync(Stream.Null, request.HttpContext.RequestAborted);
        }).WithRoles().WithBodyLimits();
    }

    private static async Task StayAsync(HttpContext context)
    {
        await context.Response.Body.FlushAsync(context.RequestAborted);
        await Task.Delay(Timeout.InfiniteTimeSpan, TimeProvider.System, context.RequestAborted);
    }

    private sealed record Named(string Name);
}

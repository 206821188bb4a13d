using System.Net;
using Acquire.Web.Security;

namespace Acquire.Web.Tests.Security;

/// <summary>
/// What a page of somebody else's can make a browser send. Sources: RFC 6454 (Origin), W3C Fetch Metadata, RFC 9112, 3.2 (Host).
/// </summary>
public class GateTests
{
    private static CancellationToken Token => TestContext.Current.CancellationToken;

    private static string Get(string host) =>
        $"GET /api/v1/service HTTP/1.1\r\nHost: {host}\r\nAuthorization: Bearer {RunningService.Token}\r\nConnection: close\r\n\r\n";

    /// <summary>Rebinding: a stranger's name server says that its name is this computer, and the browser believes it.</summary>
    [Theory]
    [InlineData("evil.example", 400)]
    [InlineData("evil.example:PORT", 400)]
    [InlineData("localhost.evil.example", 400)]
    [InlineData("127.0.0.1.evil.example", 400)]
    [InlineData("192.0.2.250", 400)]
    [InlineData("2130706433", 400)]
    [InlineData("", 400)]
    [InlineData("127.0.0.1:PORT", 200)]
    [InlineData("LOCALHOST:PORT", 200)]
    [InlineData("acquire.localhost:PORT", 200)]
    [InlineData("[::1]:PORT", 200)]
    [InlineData("bench.example:PORT", 200)]
    public async Task Only_names_of_this_service_are_answered(string host, int status)
    {
        await using var service = await RunningService.StartAsync(Token, options => options.Hosts = ["bench.example"]);
        var port = service.Address.Port.ToString(System.Globalization.CultureInfo.InvariantCulture);
        var answer = await RawHttp.AskAsync(service.Address, Get(host.Replace("PORT", port, StringComparison.Ordinal)), Token);
        Assert.StartsWith($"HTTP/1.1 {status} ", answer, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("GET /api/v1/service HTTP/1.0\r\n\r\n")]
    [InlineData("GET /api/v1/service HTTP/1.1\r\n\r\n")]
    [InlineData("GET /api/v1/service HTTP/1.1\r\nHost: localhost\r\nHost: evil.example\r\n\r\n")]
    [InlineData("GET http://evil.example/api/v1/service HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n")]
    public async Task A_request_without_a_host_or_with_two_is_refused(string request)
    {
        await using var service = await RunningService.StartAsync(Token);
        Assert.StartsWith("HTTP/1.1 400 ", await RawHttp.AskAsync(service.Address, request, Token), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("GET", "http://evil.example")]
    [InlineData("POST", "http://evil.example")]
    [InlineData("GET", "null")]
    [InlineData("GET", "http://localhost:1")]
    [InlineData("GET", "https://127.0.0.1:PORT")]
    [InlineData("GET", "http://127.0.0.1:PORT.evil.example")]
    public async Task A_page_of_another_origin_is_refused_whatever_it_carries(string method, string origin)
    {
        await using var service = await RunningService.StartAsync(Token);
        var refused =
            await SendAsync(service, method, "Origin", origin.Replace("PORT", $"{service.Address.Port}", StringComparison.Ordinal));
        Assert.Equal(HttpStatusCode.Forbidden, refused.StatusCode);
        _ = await RoleTests.ProblemAsync(refused);
    }

    /// <summary>Source: RFC 6455, 4.1 and 10.2: browsers let any page open a WebSocket, and say where it comes from.</summary>
    [Fact]
    public async Task A_page_of_another_origin_opens_no_web_socket()
    {
        await using var service = await RunningService.StartAsync(Token);
        var answer = await RawHttp.AskAsync(
            service.Address,
            $"GET /api/v1/service HTTP/1.1\r\nHost: localhost\r\nCookie: {await PageSignInTests.SignInAsync(service)}\r\n"
            + "Connection: Upgrade, close\r\nUpgrade: websocket\r\nSec-WebSocket-Version: 13\r\n"
            + "Sec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ==\r\nOrigin: http://evil.example\r\n\r\n",
            Token);
        Assert.StartsWith("HTTP/1.1 403 ", answer, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_services_own_page_may_ask()
    {
        await using var service = await RunningService.StartAsync(Token);
        var own = service.Address.GetLeftPart(UriPartial.Authority);
        Assert.Equal(HttpStatusCode.OK, (await SendAsync(service, "GET", "Origin", own)).StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await SendAsync(service, "POST", "Origin", own)).StatusCode);
    }

    [Theory]
    [InlineData("cross-site", HttpStatusCode.Forbidden)]
    [InlineData("same-site", HttpStatusCode.Forbidden)]
    [InlineData("same-origin", HttpStatusCode.OK)]
    [InlineData("none", HttpStatusCode.OK)]
    public async Task Another_site_is_refused_also_where_a_browser_sends_no_origin(string site, HttpStatusCode status)
    {
        await using var service = await RunningService.StartAsync(Token);
        Assert.Equal(status, (await SendAsync(service, "GET", "Sec-Fetch-Site", site)).StatusCode);
    }

    [Fact]
    public async Task A_change_that_only_a_cookie_vouches_for_says_where_it_comes_from()
    {
        await using var service = await RunningService.StartAsync(Token);
        using var browser = service.With(null);
        browser.DefaultRequestHeaders.Add("Cookie", await PageSignInTests.SignInAsync(service));
        Assert.Equal(HttpStatusCode.OK, (await browser.GetAsync("/api/v1/service", Token)).StatusCode);
        Assert.Equal(HttpStatusCode.Forbidden, (await browser.PostAsync("/api/v1/sign-ins", RoleTests.Nothing, Token)).StatusCode);
        browser.DefaultRequestHeaders.Add("Origin", service.Address.GetLeftPart(UriPartial.Authority));
        Assert.Equal(HttpStatusCode.OK, (await browser.PostAsync("/api/v1/sign-ins", RoleTests.Nothing, Token)).StatusCode);
    }

    [Fact]
    public async Task No_site_is_ever_told_that_it_may_read()
    {
        await using var service = await RunningService.StartAsync(Token);
        var asked = new HttpRequestMessage(HttpMethod.Options, "/api/v1/service");
        asked.Headers.Add("Origin", "http://evil.example");
        asked.Headers.Add("Access-Control-Request-Method", "GET");
        asked.Headers.Add("Access-Control-Request-Headers", "authorization");
        var answers = new[]
        {
            await service.Client.SendAsync(asked, Token),
            await service.Client.GetAsync("/api/v1/service", Token),
            await SendAsync(service, "GET", "Origin", service.Address.GetLeftPart(UriPartial.Authority)),
        };
        Assert.Equal(HttpStatusCode.Forbidden, answers[0].StatusCode);
        Assert.DoesNotContain(
            answers.SelectMany(a => a.Headers), h => h.Key.StartsWith("Access-Control-", StringComparison.OrdinalIgnoreCase));
    }

    /// <summary>Source: OWASP HTTP Headers Cheat Sheet; W3C Content Security Policy Level 3.</summary>
    [Theory]
    [InlineData("/", HttpStatusCode.OK)]
    [InlineData("/api/v1/service", HttpStatusCode.OK)]
    [InlineData("/api/v1/nothing", HttpStatusCode.NotFound)]
    [InlineData("/health/live", HttpStatusCode.OK)]
    public async Task Every_answer_carries_what_keeps_a_browser_safe(string path, HttpStatusCode status)
    {
        await using var service = await RunningService.StartAsync(Token);
        var answer = await service.Client.GetAsync(path, Token);
        Assert.Equal(status, answer.StatusCode);
        AssertSafe(answer);
        using var stranger = service.With(null);
        AssertSafe(await stranger.GetAsync(path, Token));
    }

    [Fact]
    public async Task Whoever_is_refused_does_not_fill_the_log()
    {
        var (logger, time) = (new CountingLogger(), new FakeTimeProvider());
        var log = new RefusalLog(logger, time);
        for (var n = 0; n < 1_000; n++)
        {
            log.Refused(new Peer("192.0.2.7", false), "Another site asks.");
        }

        Assert.Single(logger.Lines);
        time.Advance(TimeSpan.FromMinutes(1));
        log.Refused(new Peer("192.0.2.7", false), "Another site asks.");
        Assert.Contains("1000 refused", logger.Lines[^1], StringComparison.Ordinal);
        await Task.CompletedTask;
    }

    private static void AssertSafe(HttpResponseMessage answer)
    {
        Assert.Equal(SafeHeaders.ContentPolicy, answer.Headers.GetValues("Content-Security-Policy").Single());
        Assert.Contains("frame-ancestors 'none'", SafeHeaders.ContentPolicy, StringComparison.Ordinal);
        Assert.StartsWith("default-src 'self';", SafeHeaders.ContentPolicy, StringComparison.Ordinal);
        Assert.Equal("nosniff", answer.Headers.GetValues("X-Content-Type-Options").Single());
        Assert.Equal("no-referrer", answer.Headers.GetValues("Referrer-Policy").Single());
        Assert.True(answer.Headers.CacheControl?.NoStore);
        Assert.False(answer.Headers.Contains("Server"));
        Assert.False(answer.Headers.Contains("Strict-Transport-Security"));
    }

    private static Task<HttpResponseMessage> SendAsync(RunningService service, string method, string header, string value)
    {
        var request = new HttpRequestMessage(new HttpMethod(method), method == "POST" ? "/api/v1/sign-ins" : "/api/v1/service");
        request.Headers.Add(header, value);
        request.Content = method == "POST" ? RoleTests.Nothing : null;
        return service.Client.SendAsync(request, Token);
    }
}

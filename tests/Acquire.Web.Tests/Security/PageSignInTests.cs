using System.Net;
using System.Net.Http.Json;
using System.Text.Json;
using Acquire.Web.Hosting;
using Acquire.Web.Security;
using Acquire.Web.Security.Tokens;

namespace Acquire.Web.Tests.Security;

public class PageSignInTests
{
    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Fact]
    public async Task The_printed_address_lets_one_browser_in_once()
    {
        await using var service = await RunningService.StartAsync(Token);
        using var browser = service.With(null);
        Assert.Equal(HttpStatusCode.Unauthorized, (await browser.GetAsync("/", Token)).StatusCode);
        var entry = ServiceHost.EntryOf(service.App);
        var answer = await browser.GetAsync(entry, Token);
        Assert.Equal((HttpStatusCode.SeeOther, "/"), (answer.StatusCode, answer.Headers.Location?.ToString()));
        var cookie = Assert.Single(answer.Headers.GetValues("Set-Cookie"));
        Assert.Matches("^acquire-[0-9a-f]{12}=[^;]+;", cookie);
        foreach (var attribute in new[] { "path=/", "samesite=strict", "httponly" })
        {
            Assert.Contains(attribute, cookie, StringComparison.OrdinalIgnoreCase);
        }

        var again = await browser.GetAsync(entry, Token);
        Assert.Equal(HttpStatusCode.Forbidden, again.StatusCode);
        Assert.Contains("acquire serve enter", await RoleTests.ProblemAsync(again), StringComparison.Ordinal);

        browser.DefaultRequestHeaders.Add("Cookie", cookie.Split(';')[0]);
        var page = await browser.GetStringAsync("/", Token);
        Assert.Contains("/openapi/v1.json", page, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.OK, (await browser.GetAsync("/openapi/v1.json", Token)).StatusCode);
    }

    [Fact]
    public async Task A_browser_stays_signed_in_when_the_service_starts_anew_and_on_no_other_service()
    {
        var service = await RunningService.StartAsync(Token);
        var cookie = await SignInAsync(service);
        await service.StopAsync();
        await using var next = await RunningService.StartAsync(Token, within: service.Folder);
        using var browser = next.With(null);
        browser.DefaultRequestHeaders.Add("Cookie", cookie);
        Assert.Equal(HttpStatusCode.OK, (await browser.GetAsync("/", Token)).StatusCode);

        await using var other = await RunningService.StartAsync(Token);
        var ours = (await SignInAsync(other)).Split('=')[0];
        using var stranger = other.With(null);
        stranger.DefaultRequestHeaders.Add("Cookie", $"{ours}={cookie.Split('=', 2)[1]}");
        Assert.Equal(HttpStatusCode.Unauthorized, (await stranger.GetAsync("/", Token)).StatusCode);
        Assert.NotEqual(ours, cookie.Split('=')[0]);
    }

    [Fact]
    public async Task A_browser_that_a_token_let_in_goes_with_the_token()
    {
        await using var service = await RunningService.StartAsync(Token);
        using var operates = service.With(await RoleTests.AddAsync(service, "bench tablet", TokenRole.Operate));
        using var made = await operates.PostAsync("/api/v1/sign-ins", RoleTests.Nothing, Token);
        var path = (await made.Content.ReadFromJsonAsync<JsonElement>(Token)).GetProperty("path").GetString()!;
        using var browser = service.With(null);
        browser.DefaultRequestHeaders.Add("Cookie", CookieOf(await browser.GetAsync(path, Token)));
        Assert.Equal(HttpStatusCode.OK, (await browser.GetAsync("/", Token)).StatusCode);
        await new TokenBook(service.Folder, TimeProvider.System).RevokeAsync("bench tablet", Token);
        await Task.Delay(TimeSpan.FromSeconds(1), TimeProvider.System, Token);
        Assert.Equal(HttpStatusCode.Unauthorized, (await browser.GetAsync("/", Token)).StatusCode);
    }

    [Fact]
    public async Task Guessing_addresses_has_to_wait()
    {
        await using var service = await RunningService.StartAsync(Token);
        using var browser = service.With(null);
        var codes = new List<HttpStatusCode>();
        for (var n = 0; n < 20; n++)
        {
            codes.Add((await browser.GetAsync($"/enter/{n:x32}", Token)).StatusCode);
        }

        Assert.All(codes.Take(Lockout.Free), code => Assert.Equal(HttpStatusCode.Forbidden, code));
        Assert.Equal(HttpStatusCode.TooManyRequests, codes[^1]);
    }

    [Theory]
    [InlineData("acquire-000000000000=abc")]
    [InlineData("NAME=abc")]
    [InlineData("NAME=")]
    public async Task A_made_up_cookie_is_nobody(string cookie)
    {
        await using var service = await RunningService.StartAsync(Token);
        var name = (await SignInAsync(service)).Split('=')[0];
        using var browser = service.With(null);
        browser.DefaultRequestHeaders.Add("Cookie", cookie.Replace("NAME", name, StringComparison.Ordinal));
        Assert.Equal(HttpStatusCode.Unauthorized, (await browser.GetAsync("/", Token)).StatusCode);
    }

    [Fact]
    public void A_code_is_good_for_ten_minutes_and_only_twenty_are_open()
    {
        var time = new FakeTimeProvider();
        var codes = new EntryCodes(time);
        var who = Roles.Principal("staff", TokenRole.Operate, null, "test");
        var early = codes.Make(who);
        time.Advance(EntryCodes.GoodFor);
        Assert.Null(codes.Take(early));
        var many = Enumerable.Range(0, 30).Select(_ => codes.Make(who)).ToList();
        Assert.Equal(20, many.Count(code => codes.Take(code) is not null));
        Assert.Null(codes.Take(""));
    }

    /// <summary>Signs a browser in and gives the cookie that it sends from then on.</summary>
    internal static async Task<string> SignInAsync(RunningService service)
    {
        using var browser = service.With(null);
        return CookieOf(await browser.GetAsync(ServiceHost.EntryOf(service.App), Token));
    }

    private static string CookieOf(HttpResponseMessage answer) => answer.Headers.GetValues("Set-Cookie").Single().Split(';')[0];
}

using System.Net;
using System.Net.Http.Json;
using System.Text;
using System.Text.Json;
using Acquire.Web.Security;
using Acquire.Web.Security.Tokens;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;

namespace Acquire.Web.Tests.Security;

public class RoleTests
{
    /// <summary>What whoever finds the port may ask. No other route is to join them by accident.</summary>
    private static readonly string[] Open = ["/enter/{code}", "/health/live", "/health/ready"];

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Every_route_asks_for_a_role_and_only_looking_for_the_lower()
    {
        await using var service = await RunningService.StartAsync(Token);
        var routes = service.App.Services.GetRequiredService<EndpointDataSource>().Endpoints.OfType<RouteEndpoint>().ToList();
        Assert.Contains(routes, r => r.RoutePattern.RawText == "/api/v1/service");
        var open = routes.Where(r => r.Metadata.GetMetadata<IAllowAnonymous>() is not null).Select(r => r.RoutePattern.RawText!);
        Assert.Equal(Open, open.Order(StringComparer.Ordinal));
        foreach (var route in routes.Where(r => r.Metadata.GetMetadata<IAllowAnonymous>() is null))
        {
            var policy = Assert.Single(route.Metadata.GetOrderedMetadata<IAuthorizeData>()).Policy;
            var methods = route.Metadata.GetRequiredMetadata<IHttpMethodMetadata>().HttpMethods;
            Assert.Equal(methods.All(m => m is "GET" or "HEAD") ? Roles.Read : Roles.Operate, policy);
        }
    }

    [Fact]
    public async Task A_route_that_says_nothing_of_roles_asks_for_the_higher()
    {
        await using var service = await RunningService.StartAsync(Token, more: app => app.MapGet("/forgotten", () => "seen"));
        using var stranger = service.With(null);
        using var reader = service.With(await AddAsync(service, "evening class", TokenRole.Read));
        Assert.Equal(HttpStatusCode.Unauthorized, (await stranger.GetAsync("/forgotten", Token)).StatusCode);
        Assert.Equal(HttpStatusCode.Forbidden, (await reader.GetAsync("/forgotten", Token)).StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await service.Client.GetAsync("/forgotten", Token)).StatusCode);
    }

    [Fact]
    public async Task Who_may_read_looks_and_changes_nothing()
    {
        await using var service = await RunningService.StartAsync(Token);
        using var reader = service.With(await AddAsync(service, "evening class", TokenRole.Read));
        Assert.Equal(HttpStatusCode.OK, (await reader.GetAsync("/api/v1/service", Token)).StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await reader.GetAsync("/openapi/v1.json", Token)).StatusCode);
        var refused = await reader.PostAsync("/api/v1/sign-ins", RoleTests.Nothing, Token);
        Assert.Equal(HttpStatusCode.Forbidden, refused.StatusCode);
        Assert.Contains("operate", await ProblemAsync(refused), StringComparison.Ordinal);

        using var operates = service.With(await AddAsync(service, "bench tablet", TokenRole.Operate));
        Assert.Equal(HttpStatusCode.OK, (await operates.PostAsync("/api/v1/sign-ins", RoleTests.Nothing, Token)).StatusCode);
    }

    [Fact]
    public async Task The_name_of_the_token_is_by_whom()
    {
        await using var service = await RunningService.StartAsync(
            Token, more: app => app.MapGet("/who", (HttpContext context) => context.NameOfUser()).WithRoles());
        using var reader = service.With(await AddAsync(service, "evening class", TokenRole.Read));
        Assert.Equal("evening class", await reader.GetStringAsync("/who", Token));
        Assert.Equal("the tests", await service.Client.GetStringAsync("/who", Token));
    }

    /// <summary>What is not there is told to nobody who may not ask.</summary>
    [Theory]
    [InlineData("GET", "/nothing/here")]
    [InlineData("GET", "/api/v1/nothing")]
    [InlineData("DELETE", "/api/v1/service")]
    public async Task A_stranger_does_not_learn_which_routes_there_are(string method, string path)
    {
        await using var service = await RunningService.StartAsync(Token);
        using var stranger = service.With(null);
        var refused = await stranger.SendAsync(new HttpRequestMessage(new HttpMethod(method), path), Token);
        Assert.Equal(HttpStatusCode.Unauthorized, refused.StatusCode);
    }

    /// <summary>The body of a change that says nothing more.</summary>
    internal static StringContent Nothing => new("", Encoding.UTF8, "application/json");

    internal static async Task<string> AddAsync(RunningService service, string name, TokenRole role) =>
        (await new TokenBook(service.Folder, TimeProvider.System).AddAsync(name, role, 1, Token)).Token;

    /// <summary>The detail of the problem that was answered.</summary>
    internal static async Task<string> ProblemAsync(HttpResponseMessage answer)
    {
        Assert.Equal("application/problem+json", answer.Content.Headers.ContentType?.MediaType);
        var problem = await answer.Content.ReadFromJsonAsync<JsonElement>(Token);
        Assert.Equal((int)answer.StatusCode, problem.GetProperty("status").GetInt32());
        return problem.GetProperty("detail").GetString()!;
    }
}

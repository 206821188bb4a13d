using System.Net;
using System.Net.Http.Json;
using System.Text.Json;

namespace Acquire.Web.Tests;

public sealed class ServiceTests
{
    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Health_is_open_and_everything_else_asks_for_the_token()
    {
        await using var service = await RunningService.StartAsync(Token);
        using var stranger = new HttpClient { BaseAddress = service.Client.BaseAddress };
        Assert.Equal(HttpStatusCode.OK, (await stranger.GetAsync("/health/ready", Token)).StatusCode);
        var refused = await stranger.GetAsync("/api/v1/service", Token);
        Assert.Equal(HttpStatusCode.Unauthorized, refused.StatusCode);
        Assert.Equal("application/problem+json", refused.Content.Headers.ContentType?.MediaType);
        var answer = await service.Client.GetFromJsonAsync<JsonElement>("/api/v1/service", Token);
        Assert.NotEmpty(answer.GetProperty("version").GetString()!);
    }
}

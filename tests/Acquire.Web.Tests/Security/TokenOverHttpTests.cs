using System.Net;
using Acquire.Web.Security;
using Acquire.Web.Security.Tokens;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;

namespace Acquire.Web.Tests.Security;

public class TokenOverHttpTests
{
    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_token_that_is_revoked_opens_nothing_within_a_second()
    {
        await using var service = await RunningService.StartAsync(Token);
        using var client = service.With(await RoleTests.AddAsync(service, "evening class", TokenRole.Read));
        Assert.Equal(HttpStatusCode.OK, (await client.GetAsync("/api/v1/service", Token)).StatusCode);
        await new TokenBook(service.Folder, TimeProvider.System).RevokeAsync("evening class", Token);
        await Task.Delay(TimeSpan.FromSeconds(1), TimeProvider.System, Token);
        Assert.Equal(HttpStatusCode.Unauthorized, (await client.GetAsync("/api/v1/service", Token)).StatusCode);
    }

    [Fact]
    public async Task A_stream_that_is_open_ends_when_its_token_is_revoked()
    {
        await using var service = await RunningService.StartAsync(Token, more: app => app.MapGet("/stream", HangAsync).WithRoles());
        using var client = service.With(await RoleTests.AddAsync(service, "evening class", TokenRole.Read));
        using var stays = service.With(await RoleTests.AddAsync(service, "staff", TokenRole.Read));
        await using var cut = await client.GetStreamAsync("/stream", Token);
        await using var kept = await stays.GetStreamAsync("/stream", Token);
        var buffer = new byte[16];
        await cut.ReadExactlyAsync(buffer.AsMemory(0, 1), Token);
        await kept.ReadExactlyAsync(buffer.AsMemory(0, 1), Token);
        await new TokenBook(service.Folder, TimeProvider.System).RevokeAsync("evening class", Token);
        using var soon = CancellationTokenSource.CreateLinkedTokenSource(Token);
        soon.CancelAfter(TimeSpan.FromSeconds(3));
        await Assert.ThrowsAnyAsync<IOException>(() => cut.ReadExactlyAsync(buffer, soon.Token).AsTask());
        var reads = kept.ReadExactlyAsync(buffer, Token).AsTask();
        Assert.NotSame(reads, await Task.WhenAny(reads, Task.Delay(TimeSpan.FromMilliseconds(700), TimeProvider.System, Token)));
    }

    [Fact]
    public async Task Whoever_tries_tokens_has_to_wait_and_the_owner_of_this_computer_does_not()
    {
        await using var service = await RunningService.StartAsync(Token);
        var good = await RoleTests.AddAsync(service, "staff", TokenRole.Read);
        var codes = new List<HttpStatusCode>();
        HttpResponseMessage last = null!;
        for (var n = 0; n < 50; n++)
        {
            using var guessing = service.With(RandomSecret.New());
            codes.Add((last = await guessing.GetAsync("/api/v1/service", Token)).StatusCode);
        }

        Assert.All(codes.Take(Lockout.Free), code => Assert.Equal(HttpStatusCode.Unauthorized, code));
        Assert.Equal(HttpStatusCode.TooManyRequests, codes[^1]);
        Assert.True(codes.Count(c => c == HttpStatusCode.Unauthorized) < 12);
        Assert.True(last.Headers.RetryAfter?.Delta > TimeSpan.Zero);
        _ = await RoleTests.ProblemAsync(last);

        Assert.Equal(HttpStatusCode.OK, (await service.Client.GetAsync("/api/v1/service", Token)).StatusCode);
        using var waits = service.With(good);
        var wait = (await waits.GetAsync("/api/v1/service", Token)).Headers.RetryAfter?.Delta;
        Assert.True(wait <= Lockout.MostHere);
    }

    [Theory]
    [InlineData("Basic dXNlcjpwYXNz")]
    [InlineData("Bearer")]
    [InlineData("Bearer ")]
    [InlineData("Bearer a, Bearer b")]
    public async Task Anything_else_in_the_header_is_nobody(string header)
    {
        await using var service = await RunningService.StartAsync(Token);
        using var client = service.With(null);
        client.DefaultRequestHeaders.TryAddWithoutValidation("Authorization", header);
        var refused = await client.GetAsync("/api/v1/service", Token);
        Assert.Equal(HttpStatusCode.Unauthorized, refused.StatusCode);
        Assert.Equal("Bearer", refused.Headers.WwwAuthenticate.ToString());
    }

    [Fact]
    public async Task When_a_token_was_used_last_is_kept()
    {
        await using var service = await RunningService.StartAsync(Token);
        using var client = service.With(await RoleTests.AddAsync(service, "staff", TokenRole.Read));
        await client.GetAsync("/api/v1/service", Token);
        await service.App.StopAsync(Token);
        var (_, used) = Assert.Single(new TokenBook(service.Folder, TimeProvider.System).List());
        Assert.InRange(used!.Value, TimeProvider.System.GetUtcNow().AddMinutes(-1), TimeProvider.System.GetUtcNow());
    }

    [Fact]
    public async Task A_file_of_tokens_that_is_broken_keeps_out_all_but_the_owner()
    {
        await using var service = await RunningService.StartAsync(Token);
        using var client = service.With(await RoleTests.AddAsync(service, "staff", TokenRole.Read));
        await File.WriteAllTextAsync(Path.Combine(service.Folder, "service-tokens.json"), "[{", Token);
        Assert.Equal(HttpStatusCode.Unauthorized, (await client.GetAsync("/api/v1/service", Token)).StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await service.Client.GetAsync("/api/v1/service", Token)).StatusCode);
    }

    private static async Task HangAsync(HttpContext context)
    {
        await context.Response.Body.WriteAsync("."u8.ToArray(), context.RequestAborted);
        await context.Response.Body.FlushAsync(context.RequestAborted);
        await Task.Delay(Timeout.InfiniteTimeSpan, TimeProvider.System, context.RequestAborted);
    }
}

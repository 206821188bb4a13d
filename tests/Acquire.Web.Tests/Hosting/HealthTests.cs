using System.Net;
using Acquire.Bench.Service;
using Microsoft.Extensions.DependencyInjection;

namespace Acquire.Web.Tests.Hosting;

public sealed class HealthTests : IAsyncLifetime
{
    private RunningService _service = null!;
    private HttpClient _stranger = null!;

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public async ValueTask InitializeAsync()
    {
        _service = await RunningService.StartAsync(Token);
        _stranger = new HttpClient { BaseAddress = _service.Client.BaseAddress };
    }

    public async ValueTask DisposeAsync()
    {
        _stranger.Dispose();
        await _service.DisposeAsync();
    }

    [Fact]
    public async Task Service_with_a_sound_store_and_no_instrument_is_alive_and_ready()
    {
        Assert.Equal((HttpStatusCode.OK, "alive"), await AskAsync("/health/live"));
        Assert.Equal((HttpStatusCode.OK, "ready"), await AskAsync("/health/ready"));
    }

    [Fact]
    public async Task Store_that_is_away_makes_it_unready_and_not_dead_until_it_is_back()
    {
        var elsewhere = _service.Store.FilePath + ".elsewhere";
        File.Move(_service.Store.FilePath, elsewhere);
        Assert.Equal((HttpStatusCode.ServiceUnavailable, "not ready: store"), await AskAsync("/health/ready"));
        Assert.Equal((HttpStatusCode.OK, "alive"), await AskAsync("/health/live"));

        File.Move(elsewhere, _service.Store.FilePath);
        Assert.Equal((HttpStatusCode.OK, "ready"), await AskAsync("/health/ready"));
    }

    [Fact]
    public async Task Instrument_without_its_loop_makes_it_unready_and_a_stranger_learns_no_name()
    {
        var board = _service.Services.GetRequiredService<StationBoard>();
        board.Expects("staff room");
        Assert.Equal((HttpStatusCode.ServiceUnavailable, "not ready: instruments"), await AskAsync("/health/ready"));

        board.Runs("staff room");
        Assert.Equal((HttpStatusCode.OK, "ready"), await AskAsync("/health/ready"));

        board.HasEnded("staff room", new InvalidOperationException("broke"));
        Assert.Equal((HttpStatusCode.ServiceUnavailable, "not ready: instruments"), await AskAsync("/health/ready"));
    }

    private async Task<(HttpStatusCode, string)> AskAsync(string path)
    {
        using var answer = await _stranger.GetAsync(path, Token);
        return (answer.StatusCode, await answer.Content.ReadAsStringAsync(Token));
    }
}

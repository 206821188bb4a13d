using Acquire.Bench.Service;
using Microsoft.AspNetCore.Diagnostics.HealthChecks;
using Microsoft.Extensions.Diagnostics.HealthChecks;

namespace Acquire.Web.Hosting;

/// <summary>
/// <c>/health/live</c>: the program answers at all. <c>/health/ready</c>: the store can be used and every instrument has its loop. Both are
/// open to everybody, so they name what fails and no more; the log says why.
/// </summary>
internal static class Health
{
    private const string Ready = "ready";

    /// <summary>A store on a disk that hangs answers late or never.</summary>
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(3);

    public static void AddHealth(this IServiceCollection services)
    {
        services.AddSingleton<StationBoard>();
        services.AddHealthChecks()
            .AddCheck<StoreCheck>("store", tags: [Ready], timeout: Patience)
            .AddCheck<StationCheck>("instruments", tags: [Ready], timeout: Patience);
    }

    public static void MapHealth(this WebApplication app)
    {
        app.MapHealthChecks("/health/live", new HealthCheckOptions { Predicate = _ => false, ResponseWriter = Write("alive") })
            .AllowAnonymous();
        app.MapHealthChecks(
            "/health/ready", new HealthCheckOptions { Predicate = check => check.Tags.Contains(Ready), ResponseWriter = Write(Ready) })
            .AllowAnonymous();
    }

    private static Func<HttpContext, HealthReport, Task> Write(string word) => (context, report) =>
    {
        var failing = report.Entries.Where(e => e.Value.Status != HealthStatus.Healthy).Select(e => e.Key).Order(StringComparer.Ordinal);
        context.Response.ContentType = "text/plain; charset=utf-8";
        return context.Response.WriteAsync(
            report.Status == HealthStatus.Healthy ? word : $"not {word}: {string.Join(", ", failing)}", context.RequestAborted);
    };
}

internal sealed class StoreCheck(AcquireStore store) : IHealthCheck
{
    public async Task<HealthCheckResult> CheckHealthAsync(HealthCheckContext context, CancellationToken cancellationToken)
    {
        try
        {
            await store.AnswerAsync(cancellationToken);
            return HealthCheckResult.Healthy();
        }
        catch (StoreException fault)
        {
            return new HealthCheckResult(context.Registration.FailureStatus, fault.Message, fault);
        }
    }
}

/// <summary>An instrument that is away is no fault of the service: its loop runs, and says so in the instrument's own state.</summary>
internal sealed class StationCheck(StationBoard board) : IHealthCheck
{
    public Task<HealthCheckResult> CheckHealthAsync(HealthCheckContext context, CancellationToken cancellationToken) =>
        Task.FromResult(board.NotRunning is { Count: > 0 } ended
            ? new HealthCheckResult(context.Registration.FailureStatus, string.Join(" ", ended.Select(e => $"{e.Key}: {e.Value}")))
            : HealthCheckResult.Healthy());
}

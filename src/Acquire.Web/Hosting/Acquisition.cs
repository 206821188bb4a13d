using Acquire.Bench.Service;
using Microsoft.Extensions.Hosting;

namespace Acquire.Web.Hosting;

/// <summary>
/// Runs the bench for as long as the service runs: a station for each instrument, and the sessions of a service before. The books are
/// written by others too, so it looks every second which instruments there are now.
/// </summary>
internal sealed class Acquisition(BenchService bench, TimeProvider time, ILogger<Acquisition> logger) : BackgroundService
{
    private static readonly TimeSpan Look = TimeSpan.FromSeconds(1);

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        try
        {
            await bench.StartAsync(stoppingToken);
            using var timer = new PeriodicTimer(Look, time);
            while (await timer.WaitForNextTickAsync(stoppingToken))
            {
                try
                {
                    await bench.RefreshAsync(stoppingToken);
                }
                catch (StoreException fault)
                {
                    AcquisitionLog.NotLooked(logger, fault.Message);
                }
            }
        }
        catch (OperationCanceledException) when (stoppingToken.IsCancellationRequested)
        {
            // The service ends.
        }
    }

    public override async Task StopAsync(CancellationToken cancellationToken)
    {
        await base.StopAsync(cancellationToken);
        await bench.DisposeAsync();
    }
}

internal static partial class AcquisitionLog
{
    [LoggerMessage(60, LogLevel.Warning, "The instruments cannot be looked up: {Reason}")]
    public static partial void NotLooked(ILogger logger, string reason);
}

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

    /// <summary>By the real clock: a store or a port that hangs does not care for the service's.</summary>
    private static readonly TimeSpan MostAhead = TimeSpan.FromSeconds(2);

    private readonly CancellationTokenSource _stop = new();
    private Task _begun = Task.CompletedTask;

    /// <summary>
    /// The sessions go on before anyone is let in, so that whoever comes back to one finds it as it was, and not broken off. What hangs
    /// holds nothing up for long.
    /// </summary>
    public override async Task StartAsync(CancellationToken cancellationToken)
    {
        _begun = BeginAsync(_stop.Token);
        await _begun.WaitAsync(MostAhead, TimeProvider.System, cancellationToken).ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
        await base.StartAsync(cancellationToken);
    }

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        try
        {
            await _begun.WaitAsync(stoppingToken);
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

    /// <summary>Begins as soon as the store can be used; another program may hold it now.</summary>
    private async Task BeginAsync(CancellationToken cancellationToken)
    {
        while (true)
        {
            try
            {
                await bench.StartAsync(cancellationToken);
                return;
            }
            catch (StoreException fault)
            {
                AcquisitionLog.NotLooked(logger, fault.Message);
            }

            await Task.Delay(Look, time, cancellationToken);
        }
    }

    public override async Task StopAsync(CancellationToken cancellationToken)
    {
        await _stop.CancelAsync();
        await base.StopAsync(cancellationToken);
        await bench.DisposeAsync();
    }

    public override void Dispose()
    {
        _stop.Dispose();
        base.Dispose();
    }
}

internal static partial class AcquisitionLog
{
    [LoggerMessage(60, LogLevel.Warning, "The instruments cannot be looked up: {Reason}")]
    public static partial void NotLooked(ILogger logger, string reason);
}

using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Hosting.Systemd;

namespace Acquire.Web.Hosting;

/// <summary>
/// What the system asks of a service that it starts itself: to say when it is ready, when it stops, and that it still lives. Where neither
/// systemd nor Windows started the program, nothing of this does anything.
/// </summary>
internal static class SystemService
{
    public static void AddSystemService(this IServiceCollection services)
    {
        services.AddWindowsService(windows => windows.ServiceName = "acquire");

        // Not AddSystemd: it looks for systemd among the processes, and a service that is kept from seeing those of others finds none and
        // stays silent. The socket is systemd's own word that it listens: sd_notify(3).
        if (Environment.GetEnvironmentVariable("NOTIFY_SOCKET") is { Length: > 0 })
        {
            services.AddSingleton<ISystemdNotifier, SystemdNotifier>();
            services.AddSingleton<IHostLifetime, SystemdLifetime>();
            if (SystemdWatchdog.Interval() is { } interval)
            {
                services.AddHostedService(host => new SystemdWatchdog(
                    interval, host.GetRequiredService<ISystemdNotifier>(), host.GetRequiredService<TimeProvider>()));
            }
        }
    }
}

/// <summary>
/// Says to systemd twice in each interval that the program lives, so that one that hangs is started anew. It says nothing of the store or
/// the instruments: starting anew mends neither.
/// </summary>
internal sealed class SystemdWatchdog(TimeSpan interval, ISystemdNotifier notifier, TimeProvider time) : BackgroundService
{
    private static readonly ServiceState Lives = new("WATCHDOG=1");

    /// <summary>How long systemd waits for a word; null where it does not. Source: sd_watchdog_enabled(3).</summary>
    public static TimeSpan? Interval() => Interval(
        Environment.GetEnvironmentVariable("WATCHDOG_USEC"), Environment.GetEnvironmentVariable("WATCHDOG_PID"), Environment.ProcessId);

    internal static TimeSpan? Interval(string? microseconds, string? watched, int process) =>
        long.TryParse(microseconds, NumberStyles.None, CultureInfo.InvariantCulture, out var wait) && wait > 0
        && (watched is null or "" || watched == process.ToString(CultureInfo.InvariantCulture))
            ? TimeSpan.FromMicroseconds(wait)
            : null;

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        using var timer = new PeriodicTimer(interval / 2, time);
        do
        {
            notifier.Notify(Lives);
        }
        while (await timer.WaitForNextTickAsync(stoppingToken));
    }
}

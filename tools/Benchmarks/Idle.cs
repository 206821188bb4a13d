using System.Diagnostics;
using Acquire.Instruments.Simulation;

namespace Benchmarks;

/// <summary>What a service costs that holds one port on which nothing comes.</summary>
internal static class Idle
{
    /// <summary>
    /// Code of the start is compiled anew in the background for a while, and a port is listened to closely for half a minute.
    /// </summary>
    private static readonly TimeSpan Settling = TimeSpan.FromSeconds(35);

    private const int Parts = 4;

    public static async Task<IEnumerable<Figure>> MeasureAsync(TimeSpan length, CancellationToken cancellationToken)
    {
        await using var port = PseudoTerminal.Open(TimeProvider.System);
        using var room = new Room();
        await room.FurnishAsync(port.Address.ToString(), cancellationToken);
        await using var service = await Served.ServiceAsync(room.Data, cancellationToken);
        await port.WaitForListenerAsync(cancellationToken);
        await Task.Delay(Settling, TimeProvider.System, cancellationToken);
        var shares = new List<double>();
        for (var n = 0; n < Parts; n++)
        {
            var (began, cost) = (Stopwatch.GetTimestamp(), service.Process.TotalProcessorTime);
            await Task.Delay(length / Parts, TimeProvider.System, cancellationToken);
            service.Process.Refresh();
            shares.Add(100 * (service.Process.TotalProcessorTime - cost) / Stopwatch.GetElapsedTime(began));
        }

        var parts = string.Join(", ", shares.Select(s => s.ToString("0.00", CultureInfo.InvariantCulture)));
        return
        [
            new Figure(
                "idle, one silent port: share of a core", shares.Average(), "%", 0.3,
                string.Create(CultureInfo.InvariantCulture, $"{length.TotalSeconds:0} s in {Parts} parts: {parts} %")),
            new Figure("idle, one silent port: resident memory", service.Process.WorkingSet64 / 1e6, "MB", 120, "at the end"),
        ];
    }
}

using Acquire.Instruments.Simulation;
using Acquire.Web.Hosting;

namespace Benchmarks.Live;

/// <summary>
/// How long a line takes from its last byte until it is durable and an attached client has it, beside a bare loop that reads a line and
/// commits it, on the same disk; line by line in turns, at the pace of a quick hand.
/// </summary>
internal static class Arrival
{
    private static readonly TimeSpan Pace = TimeSpan.FromMilliseconds(30);

    public static async Task<IEnumerable<Figure>> MeasureAsync(int strips, CancellationToken cancellationToken)
    {
        await using var instrument = PseudoTerminal.Open(TimeProvider.System);
        using var room = new Room();
        await room.FurnishAsync(instrument.Address.ToString(), cancellationToken);
        await using var service = await Served.ServiceAsync(room.Data, cancellationToken);
        await instrument.WaitForListenerAsync(cancellationToken);
        using var client = ServiceConnection.Open(await FoundAsync(room.Data, cancellationToken));
        await using var bare = await BareLoop.StartAsync(room.Beside("bare.db"), cancellationToken);
        var (served, least) = (new Times(), new Times());

        // The first strip compiles what is needed.
        for (var n = -1; n < strips; n++)
        {
            await using var strip = await WatchedStrip.BeginAsync(client, instrument, cancellationToken);
            while (strip.Next is { } patch)
            {
                await Task.Delay(Pace, TimeProvider.System, cancellationToken);
                var line = Room.LineOf(patch);
                var (one, other) = (await strip.SendAsync(line, cancellationToken), await bare.SendAsync(line, cancellationToken));
                if (n >= 0)
                {
                    served.Add(one);
                    least.Add(other);
                }
            }

            await strip.EndAsync();
        }

        return
        [
            new Figure("last byte to durable and published, to a bare loop", served.Median / least.Median, "×", 1.2, "medians, in turns"),
            new Figure("  the same at 99 %", served.Quantile(0.99) / least.Quantile(0.99), "×", 1.5, "99 % of each"),
            new Figure("  service, median", served.Median, "ms", null, served.Spread),
            new Figure("  bare loop, median", least.Median, "ms", null, least.Spread),
        ];
    }

    private static async Task<ServiceFile> FoundAsync(string dataFolder, CancellationToken cancellationToken)
    {
        for (var n = 0; n < 100; n++)
        {
            if (ServiceFile.Find(dataFolder) is { } found)
            {
                return found;
            }

            await Task.Delay(Pace, TimeProvider.System, cancellationToken);
        }

        throw new InvalidOperationException("The service left no file that tells where it is.");
    }
}

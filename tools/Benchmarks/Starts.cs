namespace Benchmarks;

/// <summary>How long the service takes until it answers, beside an ASP.NET Core program that does nothing; in turns.</summary>
internal static class Starts
{
    public static async Task<IEnumerable<Figure>> MeasureAsync(int starts, CancellationToken cancellationToken)
    {
        using var room = new Room();
        await room.FurnishAsync(port: null, cancellationToken);
        var (service, empty) = (new Times(), new Times());

        // The first of each reads its files from the disk.
        for (var n = -1; n < starts; n++)
        {
            await using (var one = await Served.ServiceAsync(room.Data, cancellationToken))
            {
                Take(service, one, n);
            }

            await using (var other = await Served.StartAsync("empty-web", [], cancellationToken))
            {
                Take(empty, other, n);
            }
        }

        return
        [
            new Figure(
                "ready, service to an empty ASP.NET Core program", service.Median / empty.Median, "×", 4, $"medians of {starts}, in turns"),
            new Figure("  service", service.Median, "ms", null, service.Spread),
            new Figure("  empty program", empty.Median, "ms", null, empty.Spread),
        ];
    }

    private static void Take(Times times, Served served, int trial)
    {
        if (trial >= 0)
        {
            times.Add(served.ReadyAfter);
        }
    }
}

using Acquire.Bench.Processes;
using Acquire.Bench.Trust;

namespace Acquire.Demo.History;

/// <summary>
/// An invented term of a community college's darkroom, with a dip tank for the evening class and a bench-top machine for staff, that ends at the
/// clock's now. Nobody's real numbers. The same seed and clock give the same history.
/// </summary>
internal static class DemoHistory
{
    /// <summary>The seed when none is given.</summary>
    public const int UsualSeed = 41;

    /// <summary>Fills a fresh data folder, and gives what looked wrong to the books; nothing should.</summary>
    /// <exception cref="BenchException">The folder has something in it, or is a file; nothing is touched.</exception>
    /// <exception cref="StoreException">The folder cannot be written.</exception>
    public static async Task<ImmutableArray<string>> FillAsync(string folder, int seed, TimeProvider time, CancellationToken cancellationToken)
    {
        RequireFresh(folder);
        var isNew = !Directory.Exists(folder);
        try
        {
            var clock = new HistoryClock(time);
            var steps = StepsOf(new TermCalendar(time.GetUtcNow(), time.LocalTimeZone), seed).Where(s => s.At <= time.GetUtcNow()).ToList();
            clock.Set(steps[0].At);
            await using var store = await AcquireStore.OpenAsync(folder, clock, cancellationToken);
            new Settings(CheckRequirement.Mark).Save(folder);
            var darkroom = Darkroom.Of(store, new ProcessLibrary(DataFolder.Processes(folder)), clock, seed);
            foreach (var step in steps)
            {
                clock.Set(step.At);
                await step.Do(darkroom, cancellationToken);
            }

            return [.. darkroom.Books.Warnings];
        }
        catch
        {
            Clear(folder, isNew);
            throw;
        }
    }

    /// <summary>All that happened, in order; the sort is stable.</summary>
    private static IEnumerable<HistoryStep> StepsOf(TermCalendar term, int seed) => new[]
    {
        OpeningSteps.Of(term), ClassBaths.Of(term), StaffBaths.Of(term), TrustSteps.Of(term), EventSteps.Of(term), StockSteps.Of(term), ClassEvenings.Of(term, seed),
        StaffSessions.Of(term, seed),
    }.SelectMany(s => s).OrderBy(s => s.At);

    private static void RequireFresh(string folder)
    {
        if (File.Exists(folder))
        {
            throw new BenchException($"{folder} is a file; the demo's history needs a folder that is empty or not there yet.");
        }

        if (Directory.Exists(folder) && Directory.EnumerateFileSystemEntries(folder).Any())
        {
            throw new BenchException($"{folder} has something in it, and nothing there is touched; name a folder that is empty or not there yet.");
        }
    }

    /// <summary>Half a history is of no use; the folder was empty, so all in it is ours.</summary>
    private static void Clear(string folder, bool isNew)
    {
        if (!Directory.Exists(folder))
        {
            return;
        }

        foreach (var entry in new DirectoryInfo(folder).EnumerateFileSystemInfos())
        {
            if (entry is DirectoryInfo inner)
            {
                inner.Delete(recursive: true);
            }
            else
            {
                entry.Delete();
            }
        }

        if (isNew)
        {
            Directory.Delete(folder);
        }
    }
}

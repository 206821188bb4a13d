using Acquire.Bench.Processes;

namespace DemoTerm;

/// <summary>
/// An invented term of a community college's darkroom, with a dip tank for the evening class and a bench-top machine for staff. Nobody's
/// real numbers. The books and records of it are kept by the program's own rooms, at the moments at which they would have been; the same
/// seed gives the same history.
/// </summary>
internal static class DemoHistory
{
    /// <summary>The seed of the term that the program is built with.</summary>
    public const int UsualSeed = 41;

    /// <summary>Fills a fresh data folder.</summary>
    /// <exception cref="InvalidOperationException">Something looked wrong to the books.</exception>
    public static async Task FillAsync(string folder, int seed, CancellationToken cancellationToken)
    {
        var steps = StepsOf(new TermCalendar(), seed).ToList();
        var clock = new HistoryClock(steps[0].At);
        await using var store = await AcquireStore.OpenAsync(folder, clock, cancellationToken);
        var darkroom = Darkroom.Of(store, new ProcessLibrary(Path.Combine(folder, "processes")), clock, seed);
        foreach (var step in steps)
        {
            clock.Set(step.At);
            await step.Do(darkroom, cancellationToken);
        }

        if (darkroom.Books.Warnings is [var warning, ..])
        {
            throw new InvalidOperationException(warning);
        }
    }

    /// <summary>The file with the rows of a term.</summary>
    public static async Task<byte[]> FileAsync(int seed, CancellationToken cancellationToken)
    {
        var folder = Directory.CreateTempSubdirectory("acquire-term-").FullName;
        try
        {
            await FillAsync(folder, seed, cancellationToken);
            using var file = new MemoryStream();
            TermFile.Write(Path.Combine(folder, "acquire.db"), file);
            return file.ToArray();
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    /// <summary>All that happened, in order; the sort is stable.</summary>
    private static IEnumerable<HistoryStep> StepsOf(TermCalendar term, int seed) => new[]
    {
        OpeningSteps.Of(term), ClassBaths.Of(term), StaffBaths.Of(term), TrustSteps.Of(term), EventSteps.Of(term), StockSteps.Of(term),
        ClassEvenings.Of(term, seed), StaffSessions.Of(term, seed),
    }.SelectMany(s => s).OrderBy(s => s.At);
}

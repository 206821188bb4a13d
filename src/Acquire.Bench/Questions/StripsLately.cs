using Acquire.Storage.Records;

namespace Acquire.Bench.Questions;

/// <summary>The strips of a line before one that is read.</summary>
internal static class StripsLately
{
    /// <summary>What is older tells of another bath. Common practice, no source.</summary>
    private static readonly TimeSpan Longest = TimeSpan.FromDays(45);

    // More than are used, since second readings and strips of other processes are among them.
    private const int Loaded = 24;

    /// <summary>In the order of time; second readings and strips without aims are none.</summary>
    /// <param name="line">The line; null for strips that name none.</param>
    /// <param name="before">Only strips from before this moment.</param>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public static async Task<ImmutableArray<StripRecord>> OfAsync(
        AcquireStore store, string? line, string processKey, DateTimeOffset before, CancellationToken cancellationToken)
    {
        var found = await store.ListStripsAsync(
            StripFilter.All with { Line = line, From = before - Longest, Before = before, Last = Loaded }, cancellationToken)
            .Where(s => s.Tags.Reread is null && !s.Aims.IsEmpty && Keys.Same(s.JudgedBy.Key, processKey)
                && (line is not null || s.Tags.Line is null))
            .ToListAsync(cancellationToken);
        return [.. found];
    }
}

using System.Collections.Immutable;
using Acquire.Analysis.History;
using Acquire.Analysis.Judgement;
using Acquire.Domain.Processes;
using Acquire.Domain.Records;
using Acquire.Storage;
using Acquire.Storage.Strips;

namespace Acquire.Bench.History;

/// <summary>The strips of one process, judged, in the order of time.</summary>
/// <param name="Sheet">The sheet that the newest of them was judged by.</param>
/// <param name="Strips">The strips.</param>
/// <param name="OfOtherProcesses">How many strips were asked for too, but are of another process.</param>
public sealed record StripHistory(ProcessSheet Sheet, ImmutableArray<StripPoint> Strips, int OfOtherProcesses)
{
    /// <summary>Loads a history.</summary>
    /// <param name="store">The store.</param>
    /// <param name="asked">Which strips.</param>
    /// <param name="time">Tells the local offset in which times are given.</param>
    /// <param name="cancellationToken">Stops the loading.</param>
    /// <returns>The history; null when there is no such strip.</returns>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public static async Task<StripHistory?> LoadAsync(AcquireStore store, HistoryFilter asked, TimeProvider time, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(store);
        ArgumentNullException.ThrowIfNull(asked);
        ArgumentNullException.ThrowIfNull(time);

        // The last so many are counted after everything else has chosen.
        var found = await store.ListStripsAsync(asked.Strips with { Last = null }, cancellationToken)
            .Where(s => asked.Bottle is null || Same(s.Bottle, asked.Bottle))
            .ToListAsync(cancellationToken);
        if (found.FindLast(s => asked.Process is null || Same(s.JudgedBy.Key, asked.Process) || Same(s.JudgedBy.Name, asked.Process)) is not { } newest)
        {
            return null;
        }

        var ofProcess = found.FindAll(s => Same(s.JudgedBy.Key, newest.JudgedBy.Key));
        return new StripHistory(
            newest.JudgedBy,
            [.. ofProcess.TakeLast(asked.Strips.Last ?? ofProcess.Count).Select(s => PointOf(s, time))],
            asked.Process is null ? found.Count - ofProcess.Count : 0);
    }

    /// <summary>A strip as a point of a history, with what the record itself tells of its day.</summary>
    public static StripPoint PointOf(StripRecord strip, TimeProvider time)
    {
        ArgumentNullException.ThrowIfNull(strip);
        ArgumentNullException.ThrowIfNull(time);
        return new StripPoint
        {
            StripId = strip.Id,
            At = TimeZoneInfo.ConvertTime(strip.Provenance.At, time.LocalTimeZone),
            Lot = strip.LotCode,
            Judgement = StripJudge.Judge(strip),
            Line = strip.Line,
            Bottle = strip.Bottle,
        };
    }

    private static bool Same(string? word, string other) => string.Equals(word, other, StringComparison.OrdinalIgnoreCase);
}

/// <summary>Which strips a history is of; what is null does not restrict.</summary>
/// <param name="Strips">Lot, line, dates, and how many.</param>
/// <param name="Bottle">Only strips that ran in this bottle, in any case.</param>
/// <param name="Process">Only strips of this process, by key or name; the newest strip's when null.</param>
public sealed record HistoryFilter(StripFilter Strips, string? Bottle = null, string? Process = null);

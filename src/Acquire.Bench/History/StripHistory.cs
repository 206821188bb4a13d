using Acquire.Analysis.Charts;
using Acquire.Analysis.Control;
using Acquire.Analysis.Uncertainty;
using Acquire.Bench.Books;
using Acquire.Bench.Strips;
using Acquire.Storage.Records;

namespace Acquire.Bench.History;

/// <summary>The strips of one process, judged, in the order of time.</summary>
/// <param name="Sheet">The sheet that the newest of them was judged by.</param>
/// <param name="Strips">The strips.</param>
/// <param name="OfOtherProcesses">How many strips were asked for too, but are of another process.</param>
public sealed record StripHistory(ProcessSheet Sheet, ImmutableArray<StripPoint> Strips, int OfOtherProcesses)
{
    /// <summary>The records behind the points, in the same order.</summary>
    public ImmutableArray<StripRecord> Records { get; private init; } = [];

    /// <summary>The books.</summary>
    public Ledger Books { get; private init; } = new([]);

    /// <summary>The line that was asked for; null for all.</summary>
    public string? Line { get; private init; }

    /// <summary>What happened meanwhile.</summary>
    public ImmutableArray<ChartEvent> Events { get; private init; } = [];

    /// <summary>Strips read again and strips without aims: they are no points of a history.</summary>
    public int LeftOut { get; private init; }

    /// <summary>Loads a history.</summary>
    /// <param name="store">The store.</param>
    /// <param name="asked">Which strips.</param>
    /// <param name="time">Tells the local offset in which times are given.</param>
    /// <param name="cancellationToken">Stops the loading.</param>
    /// <returns>The history; null when there is no such strip.</returns>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public static async Task<StripHistory?> LoadAsync(
        AcquireStore store, HistoryFilter asked, TimeProvider time, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(store);
        ArgumentNullException.ThrowIfNull(asked);
        ArgumentNullException.ThrowIfNull(time);

        // The last so many are counted after everything else has chosen.
        var found = await store.ListStripsAsync(asked.Strips with { Last = null }, cancellationToken)
            .Where(s => asked.Bottle is null || Keys.Same(s.Tags.Bottle, asked.Bottle))
            .ToListAsync(cancellationToken);
        if (found.FindLast(s => asked.Process is null || Keys.Same(s.JudgedBy.Key, asked.Process)
            || Keys.Same(s.JudgedBy.Name, asked.Process)) is not { } newest)
        {
            return null;
        }

        var ofProcess = found.FindAll(s => Keys.Same(s.JudgedBy.Key, newest.JudgedBy.Key));
        var counting = ofProcess.FindAll(s => s.Tags.Reread is null && !s.Aims.IsEmpty);
        var books = await new DarkroomBooks(store, time).OpenAsync(cancellationToken);
        var judging = await StripJudging.LoadAsync(store, cancellationToken, asked.Level);
        var points = counting.Select(s => (Record: s, Point: PointOf(s, judging, books, time))).OrderBy(p => p.Point.At)
            .TakeLast(asked.Strips.Last ?? counting.Count).ToList();
        return new StripHistory(
            newest.JudgedBy, [.. points.Select(p => p.Point)], asked.Process is null ? found.Count - ofProcess.Count : 0)
        {
            Records = [.. points.Select(p => p.Record)],
            Books = books,
            Line = asked.Strips.Line,
            Events = HistoryEvents.Of(books, asked.Strips.Line, asked.Bottle, time.LocalTimeZone),
            LeftOut = ofProcess.Count - counting.Count,
        };
    }

    /// <summary>The same history of some of its strips only.</summary>
    /// <param name="indices">Their places, in order.</param>
    public StripHistory Only(IReadOnlyCollection<int> indices) =>
        this with { Strips = [.. indices.Select(i => Strips[i])], Records = [.. indices.Select(i => Records[i])] };

    /// <summary>Whether a bottle may be of the line that was asked for: it was used there, or in no line yet.</summary>
    public bool IsOfLine(Bottle bottle)
    {
        ArgumentNullException.ThrowIfNull(bottle);
        var lines = Books.Uses.Where(u => u.LineId is not null && u.BottleIds.Contains(bottle.Id)).Select(u => u.LineId!.Value).ToHashSet();
        return Line is null || lines.Count == 0 || Books.Lines.Any(l => Keys.Same(l.Name, Line) && lines.Contains(l.Id));
    }

    /// <summary>A strip as a point of a history, with what its record alone tells.</summary>
    public static StripPoint PointOf(StripRecord strip, TimeProvider time) =>
        PointOf(strip, StripJudging.WithoutStore, new Ledger([]), time);

    /// <summary>A strip as a point of a history, with what the books tell of its day.</summary>
    public static StripPoint PointOf(StripRecord strip, StripJudging judging, Ledger books, TimeProvider time)
    {
        ArgumentNullException.ThrowIfNull(strip);
        ArgumentNullException.ThrowIfNull(judging);
        ArgumentNullException.ThrowIfNull(books);
        ArgumentNullException.ThrowIfNull(time);
        var context = StripContext.Of(books, strip, null, time.LocalTimeZone);
        return new StripPoint
        {
            StripId = strip.Id,
            At = TimeZoneInfo.ConvertTime(context?.RanAt ?? strip.Provenance.At, time.LocalTimeZone),
            Lot = strip.LotCode,
            Judgement = judging.Judge(strip),
            Line = context?.Line?.Line.Name ?? strip.Tags.Line,
            Bottle = context?.Bottle?.Bottle.Name ?? strip.Tags.Bottle,
            Solution = context?.Bottle?.Solution.Name,
            Storage = HistoryBooks.Storage(context?.Bottle),
            Method = HistoryBooks.Method(context?.Line),
            AgeDays = context?.Bottle?.Age?.TotalDays,
            OpenDays = context?.Bottle?.SinceOpening?.TotalDays,
            AreaPerLitre = context?.Bottle?.AreaPerLitre,
        };
    }

}

/// <summary>Which strips a history is of; what is null does not restrict.</summary>
/// <param name="Strips">Lot, line, dates, and how many.</param>
/// <param name="Bottle">Only strips that ran in this bottle, in any case.</param>
/// <param name="Process">Only strips of this process, by key or name; the newest strip's when null.</param>
public sealed record HistoryFilter(StripFilter Strips, string? Bottle = null, string? Process = null)
{
    /// <summary>Probability that verdicts ask for.</summary>
    public double Level { get; init; } = Verdicts.UsualLevel;
}

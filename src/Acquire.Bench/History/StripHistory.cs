using Acquire.Analysis.Charts;
using Acquire.Analysis.Control;
using Acquire.Bench.Books;
using Acquire.Bench.Strips;
using Acquire.Storage.Records;

namespace Acquire.Bench.History;

/// <summary>The strips of one process, judged, in the order of time.</summary>
/// <param name="Sheet">The sheet that the newest of them was judged by.</param>
/// <param name="OfOtherProcesses">How many strips were asked for too, but are of another process.</param>
public sealed record StripHistory(ProcessSheet Sheet, ImmutableArray<StripPoint> Strips, int OfOtherProcesses)
{
    /// <summary>The records behind the points, in the same order.</summary>
    public ImmutableArray<StripRecord> Records { get; private init; } = [];

    public Ledger Books { get; private init; } = new([]);

    /// <summary>What they were judged with.</summary>
    public StripJudging Judging { get; private init; } = StripJudging.WithoutStore;

    /// <summary>The line that was asked for; null for all.</summary>
    public string? Line { get; private init; }

    /// <summary>What happened meanwhile.</summary>
    public ImmutableArray<ChartEvent> Events { get; private init; } = [];

    /// <summary>Strips read again and strips without aims: they are no points of a history.</summary>
    public int LeftOut { get; private init; }

    /// <param name="time">Tells the local offset in which times are given.</param>
    /// <returns>The history; null when there is no such strip.</returns>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public static async Task<StripHistory?> LoadAsync(
        AcquireStore store, HistoryFilter asked, TimeProvider time, CancellationToken cancellationToken)
    {
        // The last so many are counted after everything else has chosen.
        var found = await store.ListStripsAsync(asked.Strips with { Last = null }, cancellationToken)
            .Where(s => asked.Bottle is null || Keys.Same(s.Tags.Bottle, asked.Bottle))
            .ToListAsync(cancellationToken);
        if (found.FindLast(s => asked.Process is null || Keys.Same(s.JudgedBy.Key, asked.Process)
            || Keys.Same(s.JudgedBy.Name, asked.Process)) is not { } newest)
        {
            return null;
        }

        // Parameters of two processes do not belong on one chart, so the newest strip chooses. A second reading tells of the instrument or
        // a treatment, and one without aims of nothing: neither is a point of the process.
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
            Judging = judging,
            Line = asked.Strips.Line,
            Events = HistoryEvents.Of(books, asked.Strips.Line, asked.Bottle, time.LocalTimeZone),
            LeftOut = ofProcess.Count - counting.Count,
        };
    }

    /// <summary>The same history of some of its strips only.</summary>
    /// <param name="indices">Their places, in order.</param>
    public StripHistory Only(IReadOnlyCollection<int> indices) =>
        this with { Strips = [.. indices.Select(i => Strips[i])], Records = [.. indices.Select(i => Records[i])] };

    /// <summary>What moved in some of its strips, with parameters called by their names.</summary>
    /// <param name="strips">In the order of time; lines have levels of their own, so those of one line tell most.</param>
    public DriftStudy MovementsOf(IEnumerable<StripPoint> strips) =>
        DriftStudy.Of(HistorySeries.Of(strips), key => Sheet.Find(key)?.Name ?? key);

    /// <summary>Whether a bottle may be of the line that was asked for: it was used there, or in no line yet.</summary>
    public bool IsOfLine(Bottle bottle) => HistoryBooks.MayBeOf(Books, bottle, Line);

    /// <summary>A strip as a point of a history, with what its record alone tells.</summary>
    public static StripPoint PointOf(StripRecord strip, TimeProvider time) =>
        PointOf(strip, StripJudging.WithoutStore, new Ledger([]), time);

    /// <summary>A strip as a point of a history, with what the books tell of its day.</summary>
    public static StripPoint PointOf(StripRecord strip, StripJudging judging, Ledger books, TimeProvider time)
    {
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
    /// <summary>Probability that verdicts ask for; null for what the user settled.</summary>
    public double? Level { get; init; }
}

/// <summary>What the books say of a strip's day, in the words that groups of strips are told apart by.</summary>
internal static class HistoryBooks
{
    private const double Full = 0.9;

    /// <summary>
    /// How a bottle is kept: container, how full, gas. The same words for bottles kept alike; null when nothing is known.
    /// </summary>
    public static string? Storage(BottleState? bottle) => Words(
        bottle?.Storage.Container, bottle?.FillShare is { } share ? share >= Full ? "full" : "part full" : null, bottle?.Storage.Gas);

    /// <summary>The method of a line in force; null when none was entered.</summary>
    public static string? Method(LineState? line) => Words(
        line?.Agitation,
        line?.Temperature is { } celsius ? celsius.ToString("0.0# °C", CultureInfo.InvariantCulture) : null,
        line?.Time is { } time ? time.ToString(@"m\:ss", CultureInfo.InvariantCulture) : null);

    /// <summary>The lines that a bottle ran in, as far as the books tell.</summary>
    public static HashSet<Guid> LinesOf(Ledger books, Bottle bottle) =>
        [.. books.Uses.Where(u => u.BottleIds.Contains(bottle.Id)).Select(u => u.LineId).OfType<Guid>()];

    /// <summary>Whether a bottle may be of a line: they are shared between lines until the books tell otherwise.</summary>
    /// <param name="line">Its name; null for any.</param>
    public static bool MayBeOf(Ledger books, Bottle bottle, string? line) => line is null || LinesOf(books, bottle) is var lines
        && (lines.Count == 0 || books.Lines.Any(l => BookNames.Same(l.Name, line) && lines.Contains(l.Id)));

    private static string? Words(params string?[] words) =>
        words.All(w => w is null) ? null : string.Join(", ", words.OfType<string>());
}

/// <summary>The events that belong on a chart: those entered, and bottles that were filled.</summary>
internal static class HistoryEvents
{
    /// <summary>
    /// Chooses them. What the books tie to another line or bottle than the one asked for stays out; what they tie to none concerns all.
    /// </summary>
    /// <param name="line">The line that the strips ran in; null for all.</param>
    /// <param name="bottle">The bottle that they ran in; null for all.</param>
    /// <param name="zone">The zone in which times are given.</param>
    public static ImmutableArray<ChartEvent> Of(Ledger books, string? line, string? bottle, TimeZoneInfo zone)
    {
        var chosen =
            books.Bottles.Where(b => bottle is null ? HistoryBooks.MayBeOf(books, b, line) : BookNames.Same(b.Name, bottle)).ToList();
        var bottles = chosen.Select(b => b.Id).ToHashSet();
        var lines = line is null
            ? chosen.SelectMany(b => HistoryBooks.LinesOf(books, b)).ToHashSet()
            : books.Lines.Where(l => BookNames.Same(l.Name, line)).Select(l => l.Id).ToHashSet();
        return
        [
            .. books.Events.Where(e => (line ?? bottle) is null || (IsOf(e.LineId, lines) && IsOf(e.BottleId, bottles)))
                .Select(e => new ChartEvent(TimeZoneInfo.ConvertTime(e.HappenedAt, zone), e.Text, Kind(e.Kind)))
                .Concat(chosen.Select(b => new ChartEvent(
                        TimeZoneInfo.ConvertTime(b.HappenedAt, zone), $"{b.Name} filled with {books.SolutionIn(b).Name}", "bottle filled")))
                .OrderBy(e => e.At),
        ];
    }

    private static bool IsOf(Guid? id, HashSet<Guid> chosen) => id is null || chosen.Contains(id.Value);

    private static string Kind(BookEventKind kind) => kind switch
    {
        BookEventKind.NewMix => "new mix",
        BookEventKind.Repair => "repair",
        BookEventKind.Temperature => "temperature",
        BookEventKind.NewLot => "new lot",
        BookEventKind.Calibration => "calibration",
        BookEventKind.Pause => "pause",
        _ => "event",
    };
}

/// <summary>
/// Strips past a control limit with a second strip run beside them: something sudden had happened to the strip or to the bath, and somebody
/// looked into it. They tell nothing of how a solution ages.
/// </summary>
public static class SuddenFaults
{
    /// <summary>Ids of such strips: the first ones, and the second ones that were past a limit too.</summary>
    public static ImmutableHashSet<Guid> Of(StripHistory history)
    {
        var looked = history.Records.Select(r => r.Tags.Confirms).OfType<Guid>().ToHashSet();
        return
        [
            .. history.Records.Zip(history.Strips)
                .Where(p => p.Second.Judgement.Overall == Zone.Out && (p.First.Tags.Confirms is not null || looked.Contains(p.First.Id)))
                .Select(p => p.First.Id),
        ];
    }

    /// <summary>The strips that tell how a solution ages.</summary>
    public static ImmutableArray<StripPoint> Ageing(StripHistory history)
    {
        var sudden = Of(history);
        return [.. history.Strips.Where(s => !sudden.Contains(s.StripId))];
    }
}

using Acquire.Analysis.Charts;
using Acquire.Bench.Books;

namespace Acquire.Bench.History;

/// <summary>The events that belong on a chart: those entered, and bottles that were filled.</summary>
internal static class HistoryEvents
{
    /// <summary>
    /// Chooses them. What the books tie to another line or bottle than the one asked for stays out; what they tie to none concerns all.
    /// </summary>
    /// <param name="books">The books.</param>
    /// <param name="line">The line that the strips ran in; null for all.</param>
    /// <param name="bottle">The bottle that they ran in; null for all.</param>
    /// <param name="zone">The zone in which times are given.</param>
    public static ImmutableArray<ChartEvent> Of(Ledger books, string? line, string? bottle, TimeZoneInfo zone)
    {
        var runsOf = books.Uses.SelectMany(u => u.BottleIds.Select(b => (Bottle: b, Line: u.LineId))).Where(r => r.Line is not null)
            .ToLookup(r => r.Bottle, r => r.Line!.Value);
        var bottles =
            books.Bottles.Where(b => bottle is null ? IsOfLine(b.Id) : BookNames.Same(b.Name, bottle)).Select(b => b.Id).ToHashSet();
        var lines = books.Lines
            .Where(l => line is null ? bottles.Any(b => runsOf[b].Contains(l.Id)) : BookNames.Same(l.Name, line))
            .Select(l => l.Id)
            .ToHashSet();
        return
        [
            .. books.Events.Where(e => (line ?? bottle) is null || (IsOf(e.LineId, lines) && IsOf(e.BottleId, bottles)))
                .Select(e => new ChartEvent(TimeZoneInfo.ConvertTime(e.HappenedAt, zone), e.Text, Kind(e.Kind)))
                .Concat(books.Bottles.Where(b => bottles.Contains(b.Id))
                    .Select(b => new ChartEvent(
                        TimeZoneInfo.ConvertTime(b.HappenedAt, zone), $"{b.Name} filled with {books.SolutionIn(b).Name}", "bottle filled")))
                .OrderBy(e => e.At),
        ];

        // A bottle that nothing ran through yet may be for any line.
        bool IsOfLine(Guid id) =>
            line is null || !runsOf.Contains(id) || books.Lines.Any(l => BookNames.Same(l.Name, line) && runsOf[id].Contains(l.Id));
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

using Acquire.Analysis.Causes;
using Acquire.Analysis.Control;
using Acquire.Bench.Books;
using Acquire.Bench.History;
using Acquire.Storage.Records;

namespace Acquire.Bench.Causes;

/// <summary>Gathers what history, books and second readings tell of a strip.</summary>
public static class CauseContexts
{
    /// <summary>How long before a strip something counts as having happened shortly before. Judgement, no source.</summary>
    public static readonly TimeSpan Shortly = TimeSpan.FromDays(5);

    /// <summary>Gathers it.</summary>
    /// <param name="store">The store.</param>
    /// <param name="asked">The strip.</param>
    /// <param name="ruledOut">Keys of faults that the user rules out.</param>
    /// <param name="time">Tells the local time zone.</param>
    /// <param name="cancellationToken">Stops it.</param>
    /// <exception cref="BenchException">A key is of no fault of the strip's process.</exception>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public static async Task<CauseCase> LoadAsync(
        AcquireStore store, StripRecord asked, IReadOnlyCollection<string> ruledOut, TimeProvider time, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(store);
        ArgumentNullException.ThrowIfNull(asked);
        ArgumentNullException.ThrowIfNull(time);
        var excluded = Keys(ruledOut, asked);
        var sameLot =
            await store.ListStripsAsync(StripFilter.All with { LotCode = asked.LotCode }, cancellationToken).ToListAsync(cancellationToken);
        var strip = Untreated(asked, sameLot);
        var tests = Tests(strip, sameLot).ToImmutableArray();
        var asPoint = StripFilter.All with { Line = strip.Tags.Line, Before = strip.Provenance.At.AddMilliseconds(1) };
        var history = await StripHistory.LoadAsync(store, new HistoryFilter(asPoint, Process: strip.JudgedBy.Key), time, cancellationToken);
        ImmutableArray<StripPoint> points = [.. (history?.Strips ?? []).Where(p => strip.Tags.Line is not null || p.Line is null)];
        var books = history?.Books ?? await new DarkroomBooks(store, time).OpenAsync(cancellationToken);
        var lot = await store.FindLotAsync(strip.LotCode, cancellationToken);
        var day = StripContext.Of(books, strip, lot, time.LocalTimeZone);
        var ranAt = day?.RanAt ?? strip.Provenance.At;
        var movement = MovementBefore.Of(points, strip, history?.Sheet)
            ?? (sameLot.Find(s => s.Id == strip.Tags.Confirms) is { } first ? MovementBefore.Of(points, first, history?.Sheet) : null);
        var stood = MovementBefore.StoodAt(movement, points, strip);
        var context = new CauseContext
        {
            Shape = movement?.Shape,
            Before = history?.Records.FirstOrDefault(r => r.Id == stood?.StripId),
            CheckLacking = strip.CheckId is null || strip.CheckLacking is not null,
            LotExpired = lot?.IsExpiredOn(DateOnly.FromDateTime(TimeZoneInfo.ConvertTime(ranAt, time.LocalTimeZone).DateTime)) ?? false,
            Thaws = day?.Stock?.Thaws,
            NewMix = Happened(books, strip, day, BookEventKind.NewMix, ranAt) || IsFresh(day),
            Repaired =
                Happened(books, strip, day, BookEventKind.Repair, ranAt) || Happened(books, strip, day, BookEventKind.Temperature, ranAt),
            PauseDays = Pause(books, strip, day, points, ranAt)?.TotalDays,
            AgeDays = day?.Bottle?.Age?.TotalDays,
            RollsPerLitre = day?.Bottle?.AreaPerLitre / FilmFormat.Roll,
            RuledOut = [.. excluded, .. Keys(tests, TestOutcome.RuledOut)],
            BorneOut = [.. Keys(tests, TestOutcome.BorneOut).Except(excluded)],
        };
        return new CauseCase(asked, strip, context, tests, points.Count(p => p.StripId != strip.Id));
    }

    private static IEnumerable<string> Keys(ImmutableArray<TreatmentTest> tests, TestOutcome outcome) =>
        tests.Where(t => t.Outcome == outcome).Select(t => t.Fault.Key);

    private static ImmutableArray<string> Keys(IReadOnlyCollection<string> given, StripRecord strip)
    {
        var known = FaultSignatures.Of(strip.JudgedBy.Key).Where(s => s.Shows).Select(s => s.Key).ToList();
        return
        [
            .. given.Select(g => known.Find(k => string.Equals(k, g, StringComparison.OrdinalIgnoreCase))
                ?? throw new BenchException(known.Count == 0
                    ? $"No faults of {strip.JudgedBy.Name} are known, so '{g}' cannot be ruled out."
                    : $"'{g}' is no fault of {strip.JudgedBy.Name}; it has {string.Join(", ", known)}.")),
        ];
    }

    /// <summary>The strip as the process made it: before it was bleached, fixed, washed or dried again.</summary>
    private static StripRecord Untreated(StripRecord strip, List<StripRecord> sameLot) =>
        strip.Tags.Reread is { Of: var before, After: not Treatment.None } && sameLot.Find(s => s.Id == before) is { } earlier
            ? Untreated(earlier, sameLot)
            : strip;

    /// <summary>Every second reading after a treatment, of the strip or of a reading of it.</summary>
    private static IEnumerable<TreatmentTest> Tests(StripRecord strip, List<StripRecord> sameLot) =>
        sameLot.Where(s => s.Tags.Reread?.Of == strip.Id).SelectMany(again => TreatmentTest.Of(strip, again).Concat(Tests(again, sameLot)));

    private static bool Happened(
        Ledger books, StripRecord strip, StripContext? day, BookEventKind kind, DateTimeOffset ranAt) => books.Events.Any(e =>
        e.Kind == kind && IsShortlyBefore(e.HappenedAt, ranAt)
        && (e.LineId is null || e.LineId == day?.Line?.Line.Id || strip.Tags.Line is null)
        && (e.BottleId is null || e.BottleId == day?.Bottle?.Bottle.Id || strip.Tags.Bottle is null));

    private static bool IsFresh(StripContext? day) => day?.Bottle?.Age is { } age && age <= Shortly;

    private static bool IsShortlyBefore(DateTimeOffset then, DateTimeOffset ranAt) => then <= ranAt && ranAt - then <= Shortly;

    /// <summary>Since the line's last film or strip, whichever is later.</summary>
    private static TimeSpan? Pause(
        Ledger books, StripRecord strip, StripContext? day, ImmutableArray<StripPoint> points, DateTimeOffset ranAt)
    {
        var film = books.Uses
            .Where(u => day?.Line is { } line && u.LineId == line.Line.Id && u.StripId != strip.Id && u.HappenedAt < ranAt)
            .Select(u => (DateTimeOffset?)u.HappenedAt)
            .Max();
        var last = points.Where(p => p.StripId != strip.Id && p.At < ranAt).Select(p => (DateTimeOffset?)p.At).Append(film).Max();
        return ranAt - last;
    }
}

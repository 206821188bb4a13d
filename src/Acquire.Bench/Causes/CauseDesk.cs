using Acquire.Analysis.Causes;
using Acquire.Analysis.Control;
using Acquire.Bench.Books;
using Acquire.Bench.History;
using Acquire.Bench.Lots;
using Acquire.Bench.Strips;
using Acquire.Storage.Records;

namespace Acquire.Bench.Causes;

/// <summary>A strip whose causes are asked for.</summary>
/// <param name="Strip">Its id, or enough of the end.</param>
/// <param name="RuledOut">Keys of faults that the user rules out.</param>
public sealed record CauseAsked(string Strip, IReadOnlyCollection<string> RuledOut);

/// <summary>What may be behind a strip: weighs it with what history, books and second readings tell.</summary>
/// <param name="time">Tells the local time zone.</param>
public sealed class CauseDesk(AcquireStore store, TimeProvider time)
{
    /// <summary>How long before a strip something counts as having happened shortly before. Judgement, no source.</summary>
    public static readonly TimeSpan Shortly = TimeSpan.FromDays(5);

    /// <exception cref="BenchException">There is no such strip, or a key is of no fault of its process.</exception>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public async Task<CauseCase> AskAsync(CauseAsked asked, CancellationToken cancellationToken) =>
        await AskAsync(await store.GetStripAsync(asked.Strip, cancellationToken), asked.RuledOut, cancellationToken);

    /// <summary>The same of a strip that is at hand.</summary>
    internal async Task<CauseCase> AskAsync(
        StripRecord asked, IReadOnlyCollection<string> ruledOut, CancellationToken cancellationToken)
    {
        var excluded = Keys(ruledOut, asked);
        var sameLot =
            await store.ListStripsAsync(StripFilter.All with { LotCode = asked.LotCode }, cancellationToken).ToListAsync(cancellationToken);

        // A treated strip shows what the treatment left of the fault. The fault itself is on the first reading; the difference is a test.
        var strip = Untreated(asked, sameLot);
        var asPoint = StripFilter.All with { Line = strip.Tags.Line, Before = strip.Provenance.At.AddMilliseconds(1) };
        var history = await StripHistory.LoadAsync(store, new HistoryFilter(asPoint, Process: strip.JudgedBy.Key), time, cancellationToken);
        ImmutableArray<StripPoint> points = [.. (history?.Strips ?? []).Where(p => strip.Tags.Line is not null || p.Line is null)];
        var judging = history?.Judging ?? await StripJudging.LoadAsync(store, cancellationToken);
        var tests = Tests(strip, sameLot, judging).ToImmutableArray();
        var books = history?.Books ?? await new DarkroomBooks(store, time).OpenAsync(cancellationToken);
        var lot = await store.FindLotAsync(strip.LotCode, cancellationToken);
        var day = StripContext.Of(books, strip, lot, time.LocalTimeZone);
        var ranAt = day?.RanAt ?? strip.Provenance.At;
        // A second strip has no movement of its own where the first one made it.
        var movement = MovementBefore.Of(history, points, strip)
            ?? (sameLot.Find(s => s.Id == strip.Tags.Confirms) is { } first ? MovementBefore.Of(history, points, first) : null);
        var stood = MovementBefore.StoodAt(movement, points, strip);
        ImmutableArray<StripPoint> before = [.. points.Where(p => p.StripId != strip.Id)];
        var context = new CauseContext
        {
            Shape = movement?.Shape,
            Before = history?.Records.FirstOrDefault(r => r.Id == stood?.StripId),
            Ground = judging.GroundOf,
            Scatter = NaturalScatter.LearntFrom(before.Select(p => history!.Records.First(r => r.Id == p.StripId)), judging.GroundOf),
            OtherLots = await OtherLotsAsync(strip, cancellationToken),
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
        return new CauseCase(asked, strip, context, tests, before.Length);
    }

    private static IEnumerable<string> Keys(ImmutableArray<TreatmentTest> tests, TestOutcome outcome) =>
        tests.Where(t => t.Outcome == outcome).Select(t => t.Fault.Key);

    private static ImmutableArray<string> Keys(IReadOnlyCollection<string> given, StripRecord strip)
    {
        var known = Possibilities.Of(strip.JudgedBy.Key).Select(p => p.Key).ToList();
        return
        [
            .. given.Select(g => known.Find(k => string.Equals(k, g, StringComparison.OrdinalIgnoreCase))
                ?? throw new BenchException(known.Count == 0
                    ? $"No faults of {strip.JudgedBy.Name} are known, so '{g}' cannot be ruled out."
                    : $"'{g}' is no fault of {strip.JudgedBy.Name}; it has {string.Join(", ", known)}.")),
        ];
    }

    /// <summary>The aims, on the day of the strip, of the other lots that it could be of.</summary>
    private async Task<ImmutableArray<LotAims>> OtherLotsAsync(StripRecord strip, CancellationToken cancellationToken)
    {
        var others = ImmutableArray.CreateBuilder<LotAims>();
        foreach (var lot in await store.ListLotsAsync(cancellationToken))
        {
            if (lot.Code != strip.LotCode && lot.ProcessKey == strip.JudgedBy.Key
                && lot.Layout.Patches.SequenceEqual(strip.Layout.Patches)
                && await LotBook.FindPastAsync(store, lot.Code, cancellationToken) is { } past)
            {
                others.Add(new LotAims(lot.Code, past.At(strip.Provenance.At).Aims));
            }
        }

        return others.ToImmutable();
    }

    /// <summary>The strip as the process made it: before it was bleached, fixed, washed or dried again.</summary>
    private static StripRecord Untreated(StripRecord strip, List<StripRecord> sameLot) =>
        strip.Tags.Reread is { Of: var before, After: not Treatment.None } && sameLot.Find(s => s.Id == before) is { } earlier
            ? Untreated(earlier, sameLot)
            : strip;

    /// <summary>Every second reading after a treatment, of the strip or of a reading of it.</summary>
    private static IEnumerable<TreatmentTest> Tests(StripRecord strip, List<StripRecord> sameLot, StripJudging judging) =>
        sameLot.Where(s => s.Tags.Reread?.Of == strip.Id)
            .SelectMany(again => TreatmentTest.Of(strip, again, judging.GroundOf).Concat(Tests(again, sameLot, judging)));

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

/// <summary>A strip with everything that store and books add to it.</summary>
/// <param name="Strip">
/// The record that is weighed: for a strip that was treated and read again the one before, as that is what the process made.
/// </param>
/// <param name="Context">What history and books add.</param>
/// <param name="Tests">What treating the strip again told of faults.</param>
/// <param name="StripsBefore">How many strips of its line and process the history has before it.</param>
public sealed record CauseCase(
    StripRecord Asked, StripRecord Strip, CauseContext Context, ImmutableArray<TreatmentTest> Tests, int StripsBefore)
{
    public CauseStudy Study { get; } = CauseStudy.Of(Strip, Context);
}

/// <summary>How the process came to where a strip found it.</summary>
internal static class MovementBefore
{
    /// <summary>
    /// A jump longer ago than so many strips says nothing of a cause at work now; what goes little by little may have begun at any time.
    /// </summary>
    private const int Strips = 12;

    /// <summary>The largest movement away from aim that still stands at the strip; null when there is none.</summary>
    /// <param name="history">The history that the points are of; null when there are none.</param>
    /// <param name="points">The strips up to it and with it, in the order of time.</param>
    public static DriftFinding? Of(StripHistory? history, ImmutableArray<StripPoint> points, StripRecord strip)
    {
        if (history is null || points.FirstOrDefault(p => p.StripId == strip.Id) is not { } point)
        {
            return null;
        }

        ImmutableArray<StripPoint> until = [.. points.Take(points.IndexOf(point) + 1)];
        var recent = until.TakeLast(Strips).Select(p => p.StripId).ToHashSet();
        return history.MovementsOf(until).Findings
            .Where(f => f.Shape switch
            {
                DriftShape.Gradual => f.IsLatest,
                DriftShape.Jump or DriftShape.Open => f.IsLatest && recent.Contains(f.BeganAtStrip),
                DriftShape.SingleStrip => f.BeganAtStrip == strip.Id,
                _ => false,
            })
            .Where(f => IsAway(f, point))
            .OrderByDescending(f => Math.Abs(f.Step))
            .FirstOrDefault();
    }

    /// <summary>
    /// The last strip of the same lot in the same bottle before a movement that came at once: where the process stood, so that what moved
    /// it is not asked to explain how the solution had aged before. Null when there is none.
    /// </summary>
    /// <param name="finding">The movement; null for none.</param>
    /// <param name="points">The strips in the order of time.</param>
    public static StripPoint? StoodAt(DriftFinding? finding, ImmutableArray<StripPoint> points, StripRecord strip) =>
        finding is { Shape: DriftShape.Jump or DriftShape.SingleStrip } && strip.Tags.Bottle is not null
            ? points.TakeWhile(p => p.StripId != finding.BeganAtStrip && p.StripId != strip.Id)
                .LastOrDefault(p => p.Lot == strip.LotCode && BookNames.Same(p.Bottle ?? "", strip.Tags.Bottle))
            : null;

    /// <summary>Whether the strip lies on the side that the movement went to; one back to aim needs no cause.</summary>
    private static bool IsAway(DriftFinding finding, StripPoint strip) => strip.Judgement.Results
        .Where(r => r.Parameter.Key == finding.ParameterKey && (finding.Channels.IsEmpty || finding.Channels.Any(c => c == r.Channel))
            && r.Deviation is not null)
        .Select(r => r.Deviation!.Value)
        .DefaultIfEmpty(0)
        .Average() * finding.Step > 0;
}

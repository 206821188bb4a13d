using Acquire.Analysis.Control;
using Acquire.Analysis.Judgement;
using Acquire.Analysis.Life;
using Acquire.Bench.Books;
using Acquire.Bench.History;
using Acquire.Bench.Processes;
using Acquire.Bench.Sessions;
using Acquire.Bench.Trust;
using Acquire.Storage.Records;

namespace Acquire.Bench.Daily;

/// <summary>The day at a glance, to be shown by whoever asked.</summary>
/// <param name="time">The clock and the local offset.</param>
public sealed class DailyDesk(AcquireStore store, ProcessLibrary processes, TimeProvider time)
{
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public async Task<DailyBoard> AskAsync(CancellationToken cancellationToken) => DailyBoard.Of(await FactsAsync(cancellationToken));

    private async Task<DailyFacts> FactsAsync(CancellationToken cancellationToken)
    {
        var now = time.GetUtcNow();
        var books = await new DarkroomBooks(store, time).OpenAsync(cancellationToken);
        var histories = await HistoriesAsync(cancellationToken);
        ImmutableArray<StripRecord> newest = [.. histories.SelectMany(h => Newest(h)).Select(n => n.Record)];
        var told = histories.SelectMany(h => BottleStandings.Of(h, LifeStudy.Of(SuddenFaults.Ageing(h), h.Sheet), now))
            .ToDictionary(b => b.State.Bottle.Id, b => b.Standing);
        return new DailyFacts
        {
            Now = now,
            Lines = [.. LinesOf(histories, books, now)],
            Bottles = [.. BottleStandings.DevelopersInUse(books, now).Select(s => new BottleFacts(s, told.GetValueOrDefault(s.Bottle.Id)))],
            Instruments = await InstrumentsAsync(newest, cancellationToken),
            Lots = await LotsAsync(newest, books, now, cancellationToken),
            Unfinished = [.. (await new SessionBook(store, time).UnfinishedAsync(cancellationToken))
                .Select(s => (WhatOf(s.Session), StripId.ShortForm(s.Session.Id)))],
        };
    }

    /// <summary>The newest strip of each line of a history.</summary>
    private static IEnumerable<(string? Line, StripPoint Point, StripRecord Record)> Newest(StripHistory history) => history.Strips
        .Zip(history.Records)
        .GroupBy(s => s.First.Line, StringComparer.OrdinalIgnoreCase)
        .Select(g => (g.Key, g.Last().First, g.Last().Second));

    private async Task<ImmutableArray<StripHistory>> HistoriesAsync(CancellationToken cancellationToken)
    {
        var processes = await store.ListStripsAsync(StripFilter.All, cancellationToken).Select(s => s.JudgedBy.Key)
            .ToHashSetAsync(StringComparer.OrdinalIgnoreCase, cancellationToken);
        var histories = ImmutableArray.CreateBuilder<StripHistory>();
        foreach (var process in processes.Order(StringComparer.OrdinalIgnoreCase))
        {
            if (await StripHistory.LoadAsync(
                store, new HistoryFilter(StripFilter.All, Process: process), time, cancellationToken) is { } history)
            {
                histories.Add(history);
            }
        }

        return histories.ToImmutable();
    }

    private IEnumerable<LineFacts> LinesOf(ImmutableArray<StripHistory> histories, Ledger books, DateTimeOffset now)
    {
        var seen = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        foreach (var history in histories)
        {
            foreach (var (line, point, _) in Newest(history))
            {
                var own = history.Strips.Where(s => string.Equals(s.Line, line, StringComparison.OrdinalIgnoreCase)).ToList();
                seen.Add(line ?? "");
                yield return new LineFacts(
                    line,
                    history.Sheet.Name,
                    point,
                    StripAnswer.Of(point.Judgement),
                    ProcessChanges.Of(
                        books, history.Sheet.Key, line is null ? null : BookNames.TryLine(books, line), now, time.LocalTimeZone),
                    OpenMovements.Of(own, key => history.Sheet.Find(key)?.Name ?? key, now));
            }
        }

        // Lines of the books that no strip ran in yet: nothing is known of them, which is an answer too. Their process goes by its key
        // where there is no sheet of it any more, or none that can be read.
        var sheets = processes.List(out _);
        foreach (var line in books.Lines.Where(l => l.HappenedAt <= now && seen.Add(l.Name)))
        {
            var name = sheets.FirstOrDefault(s => Keys.Same(s.Key, line.ProcessKey))?.Name ?? line.ProcessKey;
            yield return new LineFacts(line.Name, name, null, null, [], []);
        }
    }

    private async Task<ImmutableArray<InstrumentFacts>> InstrumentsAsync(
        ImmutableArray<StripRecord> newest, CancellationToken cancellationToken)
    {
        var (checks, tests) = (new CheckBook(store, time), new RepeatabilityBook(store));
        var instruments = ImmutableArray.CreateBuilder<InstrumentFacts>();
        foreach (var (name, profile) in newest.Select(s => s.Provenance.Instrument).OfType<InstrumentInUse>()
            .DistinctBy(i => i.Name, StringComparer.OrdinalIgnoreCase).Select(i => (i.Name, i.Profile)))
        {
            instruments.Add(new InstrumentFacts(
                name, profile, await checks.StandingAsync(name, cancellationToken),
                await tests.LastReportAsync(name, cancellationToken) is not null));
        }

        return instruments.ToImmutable();
    }

    private async Task<ImmutableArray<LotFacts>> LotsAsync(
        ImmutableArray<StripRecord> newest, Ledger books, DateTimeOffset now, CancellationToken cancellationToken)
    {
        var today = DateOnly.FromDateTime(TimeZoneInfo.ConvertTime(now, time.LocalTimeZone).DateTime);
        var inUse = newest.Select(s => s.LotCode).Concat(books.StockedLots.Where(l => books.StockAt(l, now).Left > 0))
            .Distinct(StringComparer.OrdinalIgnoreCase);
        var lots = ImmutableArray.CreateBuilder<LotFacts>();
        foreach (var code in inUse)
        {
            var stock = books.StockAt(code, now);
            var lot = await store.FindLotAsync(code, cancellationToken);
            lots.Add(new LotFacts(lot?.Code ?? code, stock.IsKept ? stock.Left : null, StockState.DaysToExpiry(lot?.Expires, today)));
        }

        return lots.ToImmutable();
    }

    private static string WhatOf(Domain.Sessions.BenchSession session) =>
        session.PlaqueName is { } plaque
            ? $"check of plaque {plaque}"
            : session.LotCode is { } lot ? $"reading of lot {lot}" : "repeatability test";
}

/// <summary>What the store knows that matters today.</summary>
public sealed record DailyFacts
{
    public required DateTimeOffset Now { get; init; }

    public ImmutableArray<LineFacts> Lines { get; init; } = [];

    /// <summary>Bottles of developer in use.</summary>
    public ImmutableArray<BottleFacts> Bottles { get; init; } = [];

    /// <summary>The instruments that read the newest strips.</summary>
    public ImmutableArray<InstrumentFacts> Instruments { get; init; } = [];

    /// <summary>Lots whose strips are at hand or were used last.</summary>
    public ImmutableArray<LotFacts> Lots { get; init; } = [];

    /// <summary>Sessions that were broken off: what each reads, and the end of its id.</summary>
    public ImmutableArray<(string What, string Id)> Unfinished { get; init; } = [];
}

/// <summary>A bottle in use.</summary>
/// <param name="Standing">Where it stands by the strips; null when no strips tell of its process.</param>
public sealed record BottleFacts(BottleState State, BottleStanding? Standing);

/// <param name="Check">Whether a calibration check is in force.</param>
/// <param name="HasRepeatability">Whether a repeatability test was ever made.</param>
public sealed record InstrumentFacts(string Name, string Profile, CheckStanding Check, bool HasRepeatability);

/// <summary>A lot of strips.</summary>
/// <param name="Left">Strips left; null when they are not counted.</param>
/// <param name="DaysToExpiry">Days to its last day; null when it is not known.</param>
public sealed record LotFacts(string Code, int? Left, int? DaysToExpiry);

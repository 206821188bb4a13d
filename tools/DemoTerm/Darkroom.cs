using Acquire.Bench.Lots;
using Acquire.Bench.Processes;

namespace DemoTerm;

/// <summary>What the steps of the history work with.</summary>
/// <param name="Store">The store that is filled.</param>
/// <param name="Lots">Its lots.</param>
/// <param name="Books">Its books.</param>
/// <param name="Strips">Its strips.</param>
/// <param name="Trust">What shows how far the densitometer can be trusted.</param>
internal sealed record Darkroom(AcquireStore Store, LotBook Lots, BookKeeper Books, StripKeeper Strips, TrustKeeper Trust)
{
    /// <summary>A darkroom with nothing in it.</summary>
    public static Darkroom Of(AcquireStore store, ProcessLibrary processes, HistoryClock clock, int seed)
    {
        var ids = new HistoryIds(seed);
        var lots = new LotBook(store, processes, clock);
        var books = new BookKeeper(store, clock, ids);
        var desk = new Desk(clock, seed);
        return new Darkroom(
            store,
            lots, books, new StripKeeper(store, lots, books, desk, clock, ids, seed), new TrustKeeper(store, lots, desk, clock, ids));
    }
}

/// <summary>One thing that somebody did.</summary>
/// <param name="At">When.</param>
/// <param name="Do">What.</param>
internal sealed record HistoryStep(DateTimeOffset At, Func<Darkroom, CancellationToken, Task> Do)
{
    /// <summary>A strip that is read.</summary>
    public static HistoryStep Read(DateTimeOffset at, StripPlan plan) => new(at, (d, token) => d.Strips.ReadAsync(plan, token));
}

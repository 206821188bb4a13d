using Acquire.Storage.Records;
using Dapper;
using Microsoft.Data.Sqlite;

namespace Acquire.Storage.Tests.Seals;

/// <summary>Loads all there is in a store, as commands that show, judge and export do.</summary>
internal static class Everything
{
    /// <summary>What was said of it: records that were left out, and those that were refused.</summary>
    public static async Task<List<string>> LoadAsync(AcquireStore store, CancellationToken token)
    {
        var said = new List<string>();
        var (sessions, strips) = Ids(store.FilePath);
        Func<Task>[] loads =
        [
            async () => await store.ListStripsAsync(StripFilter.All, token).CountAsync(token),
            () => store.ListLotsAsync(token),
            () => store.FindLotAsync(Some.Lot.Code, token),
            () => store.ListInstrumentsAsync(token),
            () => store.InstrumentRevisionsAsync("bench", token),
            () => store.ListPlaquesAsync(token),
            () => store.ListChecksAsync(token),
            () => store.ListRepeatabilityTestsAsync(token),
            () => store.ListRechecksAsync(Some.Lot.Code, token),
            () => store.ListReferencesAsync(Some.Lot.Code, token),
            () => store.ListReferencesAsync("A1311", token),
            () => store.ListAdjustmentsAsync("A1311", token),
            () => store.ListBookEntriesAsync(token),
            () => store.ListSessionsAsync(token),
            () => store.ListenedSinceAsync(DateTimeOffset.MinValue, token),
            () => store.LooseTakenAsync(token),
            () => store.ServiceSessionsAsync(token),
            .. strips.SelectMany(id => new Func<Task>[]
            {
                () => store.FindStripAsync(id, token), () => store.StripRevisionsAsync(Guid.Parse(id), token),
            }),
            .. sessions.SelectMany(id => new Func<Task>[]
            {
                () => store.SessionLinesAsync(id, token), () => store.SessionEntriesAsync(id, token), () => store.FindPlanAsync(id, token),
            }),
        ];
        foreach (var load in loads)
        {
            try
            {
                await load();
            }
            catch (StoreException e)
            {
                said.Add(e.Message);
            }
        }

        return [.. said, .. store.LeftOut];
    }

    private static (List<Guid> Sessions, List<string> Strips) Ids(string file)
    {
        using var connection = new SqliteConnection($"Data Source={file};Mode=ReadOnly;Pooling=False");
        return (
            [.. connection.Query<string>("SELECT id FROM bench_session").Select(Guid.Parse)],
            [.. connection.Query<string>("SELECT id FROM strip UNION SELECT strip_id FROM strip_revision")]);
    }
}

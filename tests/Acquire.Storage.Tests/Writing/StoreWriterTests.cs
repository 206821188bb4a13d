using Dapper;
using Microsoft.Data.Sqlite;

namespace Acquire.Storage.Tests.Writing;

public sealed class StoreWriterTests : StoreFixture
{
    [Fact]
    public async Task Write_in_parallel_loses_nothing()
    {
        await Store.AddLotAsync(Some.Lot, Token);
        var sessions = new[] { Some.Session(), Some.Session(), Some.Session() };
        await Task.WhenAll(sessions.Select(s => Store.BeginSessionAsync(s, Token)));

        await Task.WhenAll(
            sessions.SelectMany(s => Enumerable.Range(1, 300).Select(n => Store.AppendAsync(s.Id, [], [Some.Line(n)], Token))));

        foreach (var session in sessions)
        {
            Assert.Equal(Enumerable.Range(1, 300), (await Store.SessionLinesAsync(session.Id, Token)).Select(l => l.Sequence));
        }
    }

    [Fact]
    public async Task Write_when_its_task_ends_others_see_it()
    {
        using var other = new SqliteConnection($"Data Source={Folder.Database};Mode=ReadOnly;Pooling=False");
        for (var n = 1; n <= 20; n++)
        {
            var code = $"lot {n}";
            await Store.AddLotAsync(new(code, "c41", Some.Layout), Token);
            Assert.Equal(n, other.ExecuteScalar<long>("SELECT count(*) FROM lot"));
        }
    }

    [Fact]
    public async Task Read_sees_every_write_before_it_and_holds_up_no_checkpoint()
    {
        using var other = new SqliteConnection($"Data Source={Folder.Database};Pooling=False");
        for (var n = 1; n <= 5; n++)
        {
            await Store.AddLotAsync(new($"lot {n}", "c41", Some.Layout), Token);
            Assert.Equal(n, (await Store.ListLotsAsync(Token)).Count);
            Assert.Equal(0, other.ExecuteScalar<long>("PRAGMA wal_checkpoint(TRUNCATE)"));
            Assert.Equal(0, new FileInfo(Folder.Database + "-wal").Length);
        }
    }

    [Fact]
    public async Task Close_after_reads_leaves_all_in_the_one_file()
    {
        await Store.AddLotAsync(Some.Lot, Token);
        _ = await Task.WhenAll(Enumerable.Range(0, 8).Select(_ => Store.ListLotsAsync(Token)));

        await Store.DisposeAsync();

        Assert.Equal([Folder.Database], Directory.GetFiles(Folder.Path, "acquire.db*"));
    }

    [Fact]
    public async Task Write_that_fails_leaves_nothing_and_the_next_works()
    {
        _ = await Assert.ThrowsAsync<StoreException>(() => Store.WriteAsync<int>(
            db =>
            {
                Acquire.Storage.Records.LotTables.Add(db, Some.Lot, Some.Evening);
                throw new InvalidOperationException("half way");
            },
            Token));

        Assert.Null(await Store.FindLotAsync(Some.Lot.Code, Token));
        await Store.AddLotAsync(Some.Lot, Token);
    }

    [Fact]
    public async Task Write_cancelled_while_it_waits_writes_nothing()
    {
        using var gate = new ManualResetEventSlim();
        using var cancel = CancellationTokenSource.CreateLinkedTokenSource(Token);
        var first = Store.WriteAsync(
            _ =>
            {
                gate.Wait(Token);
                return 0;
            },
            Token);
        var second = Store.AddLotAsync(Some.Lot, cancel.Token);
        await cancel.CancelAsync();
        gate.Set();

        _ = await Assert.ThrowsAnyAsync<OperationCanceledException>(() => second);
        _ = await first;
        Assert.Null(await Store.FindLotAsync(Some.Lot.Code, Token));
    }

    [Fact]
    public async Task Dispose_finishes_what_was_asked_for_and_refuses_the_rest()
    {
        var asked = Enumerable.Range(1, 100).Select(n => Store.AddLotAsync(new($"lot {n}", "c41", Some.Layout), Token)).ToList();
        await Store.DisposeAsync();
        await Task.WhenAll(asked);

        Assert.Equal(StoreFault.Closed, (await Assert.ThrowsAsync<StoreException>(() => Store.AddLotAsync(Some.Lot, Token))).Fault);
        Assert.Equal(StoreFault.Closed, (await Assert.ThrowsAsync<StoreException>(() => Store.ListLotsAsync(Token))).Fault);
        await ReopenAsync();
        Assert.Equal(100, (await Store.ListLotsAsync(Token)).Count);
    }
}

using Dapper;
using Microsoft.Data.Sqlite;

namespace Acquire.Storage.Tests.Files;

public sealed class StoreFaultsTests : StoreFixture
{
    [Theory]
    [Trait("Source", "sqlite.org/rescode.html, values of the primary result codes (from memory)")]
    [InlineData(5, StoreFault.Busy)]
    [InlineData(6, StoreFault.Busy)]
    [InlineData(8, StoreFault.ReadOnly)]
    [InlineData(10, StoreFault.DiskFailure)]
    [InlineData(11, StoreFault.Damaged)]
    [InlineData(13, StoreFault.DiskFull)]
    [InlineData(14, StoreFault.CannotOpen)]
    [InlineData(19, StoreFault.Refused)]
    [InlineData(26, StoreFault.NotADatabase)]
    [InlineData(1, StoreFault.Unexpected)]
    public void Translate_sqlite_error_names_fault_and_file(int code, StoreFault fault)
    {
        var error = Assert.IsType<StoreException>(StoreFaults.Translate(new SqliteException("engine text", code), "/data/acquire.db"));

        Assert.Equal(fault, error.Fault);
        Assert.StartsWith("/data/acquire.db: ", error.Message, StringComparison.Ordinal);
        _ = Assert.IsType<SqliteException>(error.InnerException);
    }

    [Fact]
    public async Task Write_full_disk_is_told_and_next_write_works_when_there_is_room()
    {
        // SQLite's own page limit gives the same result code as a full disk.
        await Store.AddLotAsync(Some.Lot, Token);
        _ = await Store.WriteAsync(db => db.Scalar<long>("PRAGMA max_page_count = 1"), Token);
        var session = Some.Session();
        await Store.BeginSessionAsync(session, Token);

        var error = await Assert.ThrowsAsync<StoreException>(
            () => Store.AppendAsync(session.Id, [], [Some.Line(1, new string('x', 100_000))], Token));
        Assert.Equal(StoreFault.DiskFull, error.Fault);
        Assert.Empty(await Store.SessionLinesAsync(session.Id, Token));

        _ = await Store.WriteAsync(db => db.Scalar<long>("PRAGMA max_page_count = 1000000"), Token);
        await Store.AppendAsync(session.Id, [], [Some.Line(1, new string('x', 100_000))], Token);
        _ = Assert.Single(await Store.SessionLinesAsync(session.Id, Token));
    }

    [Fact]
    public async Task Write_while_another_program_holds_the_file_is_told_and_works_afterwards()
    {
        using (var other = new SqliteConnection($"Data Source={Folder.Database};Pooling=False"))
        {
            other.Open();
            using var held = other.BeginTransaction();
            var error = await Assert.ThrowsAsync<StoreException>(() => Store.AddLotAsync(Some.Lot, Token));
            Assert.Equal(StoreFault.Busy, error.Fault);
        }

        await Store.AddLotAsync(Some.Lot, Token);
    }

    [Fact]
    public async Task Write_on_read_only_connection_is_told_and_a_new_connection_is_opened()
    {
        _ = await Store.WriteAsync(db => db.Execute("PRAGMA query_only = ON"), Token);

        var error = await Assert.ThrowsAsync<StoreException>(() => Store.AddLotAsync(Some.Lot, Token));

        Assert.Equal(StoreFault.ReadOnly, error.Fault);
        await Store.AddLotAsync(Some.Lot, Token);
    }

    [Fact]
    public async Task Read_value_that_cannot_be_is_told_as_damage()
    {
        await Store.AddLotAsync(Some.Lot, Token);
        await Store.AddStripAsync(Some.Strip(), Token);
        using (var other = new SqliteConnection($"Data Source={Folder.Database};Pooling=False"))
        {
            _ = other.Execute("DROP TRIGGER strip_revision_keeps; UPDATE strip_revision SET process_hash = process_hash, revised_by = ' '");
        }

        var id = await Store.WriteAsync(db => db.First<string>("SELECT strip_id FROM strip_revision"), Token);
        var error = await Assert.ThrowsAsync<StoreException>(() => Store.FindStripAsync(id!, Token));

        Assert.Equal(StoreFault.Damaged, error.Fault);
        Assert.Contains("not as it was written", error.Message, StringComparison.Ordinal);
    }
}

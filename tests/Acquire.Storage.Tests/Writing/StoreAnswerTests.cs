using Dapper;
using Microsoft.Data.Sqlite;

namespace Acquire.Storage.Tests.Writing;

public sealed class StoreAnswerTests : StoreFixture
{
    [Fact]
    public async Task Store_in_use_answers_and_stays_as_it_is()
    {
        await Store.AddLotAsync(Some.Lot, Token);
        var before = await File.ReadAllBytesAsync(Folder.Database, Token);
        await Store.AnswerAsync(Token);
        Assert.Equal(before, await File.ReadAllBytesAsync(Folder.Database, Token));
    }

    [Fact]
    public async Task Asking_a_store_that_was_just_made_leaves_no_write_ahead_log_behind()
    {
        using var folder = new TempFolder();
        var store = await AcquireStore.OpenAsync(folder.Path, Time, Token);
        await store.AnswerAsync(Token);
        await store.DisposeAsync();
        Assert.Equal([folder.Database], Directory.GetFiles(folder.Path, "acquire.db*"));
    }

    [Fact]
    public async Task File_that_was_moved_away_does_not_answer_though_it_is_still_open()
    {
        _ = await Store.ListLotsAsync(Token);
        File.Move(Folder.Database, Folder.Database + ".elsewhere");
        try
        {
            Assert.Equal(StoreFault.CannotOpen, (await Assert.ThrowsAsync<StoreException>(() => Store.AnswerAsync(Token))).Fault);
        }
        finally
        {
            File.Move(Folder.Database + ".elsewhere", Folder.Database);
        }

        await Store.AnswerAsync(Token);
    }

    [Fact]
    public async Task File_of_another_program_does_not_answer()
    {
        using (var other = new SqliteConnection($"Data Source={Folder.Database};Pooling=False"))
        {
            _ = other.Execute("PRAGMA application_id = 1");
        }

        Assert.Equal(StoreFault.NotOurs, (await Assert.ThrowsAsync<StoreException>(() => Store.AnswerAsync(Token))).Fault);
    }

    [Fact]
    public async Task Write_that_failed_on_the_file_is_remembered_until_one_is_possible_again()
    {
        using var other = new SqliteConnection($"Data Source={Folder.Database};Pooling=False");
        other.Open();
        _ = other.Execute("BEGIN IMMEDIATE");
        await Store.AnswerAsync(Token);
        Assert.Equal(StoreFault.Busy, (await Assert.ThrowsAsync<StoreException>(() => Store.AddLotAsync(Some.Lot, Token))).Fault);
        Assert.Equal(StoreFault.Busy, (await Assert.ThrowsAsync<StoreException>(() => Store.AnswerAsync(Token))).Fault);

        _ = other.Execute("ROLLBACK");
        await Store.AnswerAsync(Token);
        await Store.AddLotAsync(Some.Lot, Token);
        await ReopenAsync();
        _ = Assert.Single(await Store.ListLotsAsync(Token));
    }

    [Fact]
    public async Task Rule_that_refuses_an_entry_says_nothing_of_the_file()
    {
        await Store.AddLotAsync(Some.Lot, Token);
        _ = await Assert.ThrowsAsync<StoreException>(() => Store.AddLotAsync(Some.Lot, Token));
        using var other = new SqliteConnection($"Data Source={Folder.Database};Pooling=False");
        other.Open();
        _ = other.Execute("BEGIN IMMEDIATE");

        // It would have to wait for the other if it tried to write.
        await Store.AnswerAsync(Token);
    }

    [Fact]
    public async Task Closed_store_does_not_answer()
    {
        await Store.DisposeAsync();
        Assert.Equal(StoreFault.Closed, (await Assert.ThrowsAsync<StoreException>(() => Store.AnswerAsync(Token))).Fault);
    }
}

using Acquire.Storage.Files;

namespace Acquire.Storage.Tests.Backups;

public sealed class BackupFolderTests : StoreFixture
{
    [Fact]
    public async Task Backup_without_a_name_gets_one_of_the_time_and_is_listed()
    {
        var (made, removed) = await Store.BackUpAsync(Token);
        var (second, _) = await Store.BackUpAsync(Token);

        Assert.Equal(Path.Combine(Folder.Path, "backups", "acquire-20260312-183000.db"), made);
        Assert.EndsWith("acquire-20260312-183001.db", second, StringComparison.Ordinal);
        Assert.Empty(removed);
        Assert.Equal([made, second], BackupFolder.Of(Folder.Path).Files.Select(f => f.Path));
        Assert.Equal(Some.Evening.ToUniversalTime(), BackupFolder.Of(Folder.Path).Files[0].At);
    }

    [Fact]
    public async Task Old_backups_are_thinned_out_and_files_of_others_stay()
    {
        var (first, _) = await Store.BackUpAsync(Token);
        Time.Advance(TimeSpan.FromHours(1));
        var (second, _) = await Store.BackUpAsync(Token);
        string[] others = [
            "acquire-20260312-183000.db.keep",
            "my acquire-20260312-183000.db",
            "acquire-20260312-183000-2.db",
            "notes.txt",
            "acquire-99999999-999999.db"];
        foreach (var other in others)
        {
            await File.WriteAllTextAsync(Path.Combine(Folder.Path, "backups", other), "mine", Token);
        }

        Time.Advance(TimeSpan.FromDays(3));
        var (third, removed) = await Store.BackUpAsync(Token);

        Assert.Equal([first], removed);
        Assert.Equal(
            others.Concat([second, third]).Select(Path.GetFileName).Order(StringComparer.Ordinal),
            Directory.EnumerateFiles(Path.Combine(Folder.Path, "backups")).Select(Path.GetFileName).Order(StringComparer.Ordinal));
    }

    [Fact]
    public async Task Folder_of_backups_that_is_a_file_is_told()
    {
        await File.WriteAllTextAsync(Folder.In("backups"), "mine", Token);

        var error = await Assert.ThrowsAsync<StoreException>(() => Store.BackUpAsync(Token));

        Assert.Contains("backups", error.Message, StringComparison.Ordinal);
        Assert.Equal("mine", await File.ReadAllTextAsync(Folder.In("backups"), Token));
    }
}

using Acquire.Storage.Backups;
using Acquire.Storage.Inspection;

namespace Acquire.Storage.Tests.Backups;

public sealed class RestoringTests : StoreFixture
{
    [Fact]
    public async Task Restore_brings_the_backup_back_and_keeps_what_was_there()
    {
        var (before, after) = (Some.Strip(), Some.Strip());
        await Store.AddLotAsync(Some.Lot, Token);
        await Store.AddStripAsync(before, Token);
        var (backup, _) = await Store.BackUpAsync(Token);
        await Store.AddStripAsync(after, Token);
        await Store.DisposeAsync();

        var aside = await Restoring.RestoreAsync(backup, Folder.Path, Time, Token);
        await ReopenAsync();

        Assert.Equal(Folder.In("acquire-set-aside-20260312-183000.db"), aside);
        Deep.Equal(before, await Store.FindStripAsync(before.Id.ToString(), Token));
        Assert.Null(await Store.FindStripAsync(after.Id.ToString(), Token));
        Assert.Equal(2, (await InspectAsync(aside!)).Contents["strip"]);
        Assert.True(File.Exists(backup));
        Assert.True((await InspectAsync(Folder.Database)).IsSound);
    }

    [Fact]
    public async Task Restore_while_a_program_has_the_store_open_is_refused_and_changes_nothing()
    {
        await Store.AddLotAsync(Some.Lot, Token);
        var (backup, _) = await Store.BackUpAsync(Token);
        var before = Directory.EnumerateFiles(Folder.Path).Order(StringComparer.Ordinal).ToList();

        var error = await Assert.ThrowsAsync<StoreException>(() => Restoring.RestoreAsync(backup, Folder.Path, Time, Token));

        Assert.Equal(StoreFault.Busy, error.Fault);
        Assert.Contains("has the store open", error.Message, StringComparison.Ordinal);
        Assert.Equal(before, Directory.EnumerateFiles(Folder.Path).Order(StringComparer.Ordinal));
        await Store.AddStripAsync(Some.Strip(), Token);
    }

    /// <summary>The log of the old file, read into the new one, would damage it.</summary>
    [Fact]
    public async Task Restore_over_a_damaged_file_takes_its_log_away_with_it()
    {
        await Store.AddLotAsync(Some.Lot, Token);
        var (backup, _) = await Store.BackUpAsync(Token);
        await Store.DisposeAsync();
        await File.WriteAllTextAsync(Folder.Database, new string('x', 5000), Token);
        await File.WriteAllTextAsync(Folder.Database + "-wal", "log of the damaged file", Token);

        var aside = await Restoring.RestoreAsync(backup, Folder.Path, Time, Token);

        Assert.StartsWith("xxx", await File.ReadAllTextAsync(aside!, Token), StringComparison.Ordinal);
        Assert.Equal("log of the damaged file", await File.ReadAllTextAsync(aside + "-wal", Token));
        Assert.False(File.Exists(Folder.Database + "-wal"));
        await ReopenAsync();
        Assert.NotNull(await Store.FindLotAsync(Some.Lot.Code, Token));
    }

    [Fact]
    public async Task Restore_of_what_is_no_store_leaves_the_store_alone()
    {
        await Store.AddLotAsync(Some.Lot, Token);
        await Store.DisposeAsync();
        var file = Folder.In("letter.txt");
        await File.WriteAllTextAsync(file, new string('x', 5000), Token);

        _ = await Assert.ThrowsAsync<StoreException>(() => Restoring.RestoreAsync(file, Folder.Path, Time, Token));

        Assert.False(File.Exists(Folder.Database + ".restoring"));
        await ReopenAsync();
        Assert.NotNull(await Store.FindLotAsync(Some.Lot.Code, Token));
    }

    [Fact]
    public async Task Restore_into_a_folder_without_a_store_sets_nothing_aside()
    {
        await Store.AddLotAsync(Some.Lot, Token);
        var (backup, _) = await Store.BackUpAsync(Token);
        using var other = new TempFolder();

        Assert.Null(await Restoring.RestoreAsync(backup, other.Path, Time, Token));
        Assert.True((await InspectAsync(other.Database)).IsSound);
    }

    private Task<StoreReport> InspectAsync(string file) => StoreInspection.InspectAsync(file, _ => null, Time, Token);
}

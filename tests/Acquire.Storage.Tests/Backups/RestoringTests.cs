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

        var aside = await AcquireStore.RestoreAsync(backup, Folder.Path, Time, Token);
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

        var error = await Assert.ThrowsAsync<StoreException>(() => AcquireStore.RestoreAsync(backup, Folder.Path, Time, Token));

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

        var aside = await AcquireStore.RestoreAsync(backup, Folder.Path, Time, Token);

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

        _ = await Assert.ThrowsAsync<StoreException>(() => AcquireStore.RestoreAsync(file, Folder.Path, Time, Token));

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

        Assert.Null(await AcquireStore.RestoreAsync(backup, other.Path, Time, Token));
        Assert.True((await InspectAsync(other.Database)).IsSound);
    }

    /// <summary>
    /// What a restore leaves that is killed before, between and behind its renames: the copy ready, then the file, its log and its index of
    /// the log set aside one by one.
    /// </summary>
    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public async Task Restore_cut_off_is_finished_or_taken_back_by_the_next_that_opens(int renames)
    {
        var (before, after) = (Some.Strip(), Some.Strip());
        await Store.AddLotAsync(Some.Lot, Token);
        await Store.AddStripAsync(before, Token);
        var (backup, _) = await Store.BackUpAsync(Token);
        File.Copy(backup, Folder.Database + ".restoring");
        await Store.AddStripAsync(after, Token);

        // Copied by another process while it is open, so that there is a log with the newest strip in it.
        using var cut = new TempFolder();
        var aside = cut.In("acquire-set-aside-20260312-183000.db");
        string[] endings = ["", "-wal", "-shm"];
        for (var i = 0; i < endings.Length; i++)
        {
            await CopyAsync(Folder.Database + endings[i], (i < renames ? aside : cut.Database) + endings[i]);
        }

        await CopyAsync(Folder.Database + ".restoring", cut.Database + ".restoring");
        await using (var store = await AcquireStore.OpenAsync(cut.Path, Time, Token))
        {
            Deep.Equal(before, await store.FindStripAsync(before.Id.ToString(), Token));
            Assert.Equal(renames == 0, await store.FindStripAsync(after.Id.ToString(), Token) is not null);
        }

        Assert.False(File.Exists(cut.Database + ".restoring"));
        Assert.True((await InspectAsync(cut.Database)).IsSound);
        if (renames > 0)
        {
            var set = await InspectAsync(aside);
            Assert.True(set.IsSound, string.Join('\n', set.Findings));
            Assert.Equal(2, set.Contents["strip"]);
        }
    }

    /// <summary>As an earlier version left it when it was killed after the old file was set aside and its copy was gone.</summary>
    [Fact]
    public async Task Open_beside_a_file_set_aside_begins_no_new_store()
    {
        await Store.AddLotAsync(Some.Lot, Token);
        await Store.DisposeAsync();
        var aside = Folder.In("acquire-set-aside-20260312-183000.db");
        File.Move(Folder.Database, aside);

        var error = await Assert.ThrowsAsync<StoreException>(() => AcquireStore.OpenAsync(Folder.Path, Time, Token));

        Assert.Equal(StoreFault.Lost, error.Fault);
        Assert.Contains($"acquire restore {aside}", error.Message, StringComparison.Ordinal);
        Assert.False(File.Exists(Folder.Database));
        Assert.Null(await AcquireStore.RestoreAsync(aside, Folder.Path, Time, Token));
        await ReopenAsync();
        Assert.NotNull(await Store.FindLotAsync(Some.Lot.Code, Token));
    }

    [Fact]
    public async Task Restore_and_backup_of_a_record_that_does_not_prove_are_refused()
    {
        await Store.AddLotAsync(Some.Lot, Token);
        await Store.AddStripAsync(Some.Strip(), Token);
        var (backup, _) = await Store.BackUpAsync(Token);
        RawFile.Tamper(backup, "UPDATE strip_mean SET mean = mean + 0.01");

        await Store.DisposeAsync();

        var error = await Assert.ThrowsAsync<StoreException>(() => AcquireStore.RestoreAsync(backup, Folder.Path, Time, Token));

        Assert.Contains("is not as it was written", error.Message, StringComparison.Ordinal);
        await ReopenAsync();
        RawFile.Tamper(Folder.Database, "UPDATE strip_mean SET mean = mean + 0.01");

        error = await Assert.ThrowsAsync<StoreException>(() => Store.BackUpAsync(Folder.In("b.db"), Token));

        Assert.Equal(StoreFault.Damaged, error.Fault);
        Assert.Contains("not sound", error.Message, StringComparison.Ordinal);
        Assert.DoesNotContain(Directory.EnumerateFiles(Folder.Path), f => f.Contains("b.db", StringComparison.Ordinal));
    }

    private static async Task CopyAsync(string from, string to)
    {
        // Another handle of this process closing would drop SQLite's locks.
        using var cp = System.Diagnostics.Process.Start("cp", [from, to]);
        await cp.WaitForExitAsync(Token);
        Assert.Equal(0, cp.ExitCode);
    }

    private Task<StoreReport> InspectAsync(string file) => StoreInspection.InspectAsync(file, Time, Token);
}

using Acquire.Storage.Files;
using Acquire.Storage.Inspection;
using Acquire.Storage.Migrations;
using Microsoft.Extensions.Time.Testing;

namespace Acquire.Storage.Tests.Inspection;

/// <summary>Real damage to real files. What is damaged is told, or what is in the file reads as it did.</summary>
[Trait("speed", "slow")]
public sealed class DamageTests : IAsyncLifetime
{
    private const int Rounds = 24;

    private readonly TempFolder _folder = new();
    private readonly FakeTimeProvider _time = new(Some.Evening);
    private byte[] _whole = [];
    private string _content = "";

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public async ValueTask InitializeAsync()
    {
        await using (var store = await AcquireStore.OpenAsync(_folder.Path, _time, Token))
        {
            await Filled.FillAsync(store, Token);
        }

        _whole = await File.ReadAllBytesAsync(_folder.Database, Token);
        _content = RawFile.Dump(_folder.Database);
    }

    public ValueTask DisposeAsync()
    {
        _folder.Dispose();
        return ValueTask.CompletedTask;
    }

    /// <summary>Single bits, single bytes and runs of up to 64 bytes, beginning anywhere where the file is not empty.</summary>
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public async Task Flipped_bytes_are_told_or_change_nothing_that_is_read(int seed)
    {
        var random = new Random(seed);
        var told = 0;
        var used = Enumerable.Range(0, _whole.Length).Where(i => _whole[i] != 0).ToArray();
        for (var round = 0; round < Rounds; round++)
        {
            var bytes = (byte[])_whole.Clone();
            var (at, length) =
                (used[random.Next(used.Length)], random.Next(3) switch { 0 => 1, 1 => random.Next(2, 9), _ => random.Next(9, 65) });
            for (var i = at; i < Math.Min(at + length, bytes.Length); i++)
            {
                bytes[i] ^= (byte)(length == 1 ? 1 << random.Next(8) : random.Next(1, 256));
            }

            var file = _folder.In($"flipped-{seed}-{round}.db");
            await File.WriteAllBytesAsync(file, bytes, Token);
            if (await IsToldAsync(file))
            {
                told++;
            }
            else
            {
                Assert.True(
                    _content == RawFile.Dump(file),
                    $"seed {seed}, round {round}: {length} bytes at {at} were changed, and what is read changed unseen.");
            }
        }

        Assert.True(told > Rounds / 2, $"Only {told} of {Rounds} were told; the damage is not where the data is.");
    }

    [Theory]
    [InlineData(0.1)]
    [InlineData(0.5)]
    [InlineData(0.99)]
    public async Task Truncated_file_is_told(double left)
    {
        var file = _folder.In("cut.db");
        await File.WriteAllBytesAsync(file, _whole[..(int)(_whole.Length * left)], Token);

        Assert.True(await IsToldAsync(file));
    }

    [Fact]
    public async Task Page_of_zeros_is_told()
    {
        const int Page = 4096;
        for (var page = 1; page < _whole.Length / Page; page += 11)
        {
            var bytes = (byte[])_whole.Clone();
            Array.Clear(bytes, page * Page, Page);
            var file = _folder.In($"zeros-{page}.db");
            await File.WriteAllBytesAsync(file, bytes, Token);

            // A page that tables left when they were moved holds nothing, so nothing is lost with it.
            Assert.True(await IsToldAsync(file) || _content == RawFile.Dump(file), $"page {page}");
        }
    }

    /// <summary>What a copy of the bare file misses is the newest; what is in it is whole.</summary>
    [Fact]
    public async Task File_without_its_write_ahead_log_is_sound_and_has_less()
    {
        await using var store = await AcquireStore.OpenAsync(_folder.Path, _time, Token);
        await store.AddStripAsync(Some.Strip(), Token);
        var bare = _folder.In("bare.db");
        using (var cp = System.Diagnostics.Process.Start("cp", [_folder.Database, bare]))
        {
            await cp.WaitForExitAsync(Token);
        }

        var (with, without) = (await InspectAsync(_folder.Database), await InspectAsync(bare));

        Assert.True(with.IsSound && without.IsSound);
        Assert.Equal(4, with.Contents["strip"]);
        Assert.Equal(3, without.Contents["strip"]);
    }

    [Fact]
    public async Task Nothing_folder_and_file_of_no_bytes_are_explained()
    {
        var empty = _folder.In("empty.db");
        await File.WriteAllBytesAsync(empty, [], Token);

        Assert.Contains("no such file", await RefusedAsync(_folder.In("none.db"), StoreFault.CannotOpen), StringComparison.Ordinal);
        Assert.Contains("this is a folder", await RefusedAsync(_folder.Path, StoreFault.CannotOpen), StringComparison.Ordinal);
        Assert.Contains("no bytes", await RefusedAsync(empty, StoreFault.NotADatabase), StringComparison.Ordinal);
    }

    [Fact]
    public async Task File_of_a_newer_version_is_refused_by_name()
    {
        RawFile.Tamper(_folder.Database, "UPDATE row_seal SET sequence = sequence; PRAGMA user_version = 999");

        Assert.Contains("schema version 999", await RefusedAsync(_folder.Database, StoreFault.NewerFile), StringComparison.Ordinal);
    }

    [Fact]
    public async Task File_that_nobody_may_write_is_looked_through_and_not_opened_for_writing()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows() || Environment.UserName == "root", "Root may write everything.");
        File.SetAttributes(_folder.Database, FileAttributes.ReadOnly);

        Assert.True((await InspectAsync(_folder.Database)).IsSound);
        var error = await Assert.ThrowsAsync<StoreException>(() => AcquireStore.OpenAsync(_folder.Path, _time, Token));
        Assert.Equal(StoreFault.ReadOnly, error.Fault);
        File.SetAttributes(_folder.Database, FileAttributes.Normal);
    }

    /// <summary>SQLite would begin a new file, and throw the log with the newest readings away.</summary>
    [Fact]
    public async Task Database_that_is_gone_from_beside_its_log_is_not_begun_anew()
    {
        File.Delete(_folder.Database);
        await File.WriteAllTextAsync(_folder.Database + "-wal", "the newest readings", Token);

        var error = await Assert.ThrowsAsync<StoreException>(() => AcquireStore.OpenAsync(_folder.Path, _time, Token));

        Assert.Equal(StoreFault.Lost, error.Fault);
        Assert.False(File.Exists(_folder.Database));
        Assert.Equal("the newest readings", await File.ReadAllTextAsync(_folder.Database + "-wal", Token));
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task Database_that_is_gone_or_empty_beside_its_backups_is_not_begun_anew(bool isEmpty)
    {
        await using (var store = await AcquireStore.OpenAsync(_folder.Path, _time, Token))
        {
            _ = await store.BackUpAsync(Token);
        }

        File.Delete(_folder.Database);
        if (isEmpty)
        {
            await File.WriteAllBytesAsync(_folder.Database, [], Token);
        }

        var error = await Assert.ThrowsAsync<StoreException>(() => AcquireStore.OpenAsync(_folder.Path, _time, Token));

        Assert.Equal(StoreFault.Lost, error.Fault);
        Assert.Contains(isEmpty ? "is empty, but backups" : "is not there, but backups", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task File_of_an_earlier_version_is_looked_through_and_left_as_it_is()
    {
        using var old = new TempFolder();
        await using (var store = await AcquireStore.OpenAsync(old.Path, _time, [.. Scripts.All.Take(1)], StoreFile.DefaultLockWait, Token))
        {
            await store.AddLotAsync(Some.Lot, Token);
        }

        var before = await File.ReadAllBytesAsync(old.Database, Token);
        var report = await InspectAsync(old.Database);

        Assert.True(report.IsSound);
        Assert.Equal((1, null), (report.SchemaVersion, report.Seals));
        Assert.Equal(1, report.Contents["lot"]);
        Assert.Equal(before, await File.ReadAllBytesAsync(old.Database, Token));
    }

    private async Task<bool> IsToldAsync(string file)
    {
        try
        {
            return !(await InspectAsync(file)).IsSound;
        }
        catch (StoreException)
        {
            return true;
        }
    }

    private async Task<string> RefusedAsync(string file, StoreFault fault)
    {
        var error = await Assert.ThrowsAsync<StoreException>(() => InspectAsync(file));
        Assert.Equal(fault, error.Fault);
        return error.Message;
    }

    private Task<StoreReport> InspectAsync(string file) => StoreInspection.InspectAsync(file, _time, Token);
}

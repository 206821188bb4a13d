using Acquire.EndToEnd.Tests.Support;

namespace Acquire.EndToEnd.Tests.Crash;

/// <summary>
/// The real program killed before each rename that puts a backup in place, over a store that a killed program left with its newest record
/// in the log. The next command finds a store: the old one or the backup, whole, and the old one is kept with its log.
/// </summary>
[Trait("speed", "slow")]
public sealed class RestoreKillTests : IDisposable
{
    private const string Backup = "backup.db";
    private const string Newest = "4411";

    /// <summary>Keeps a store open so that the program that writes next leaves its log; then it is killed.</summary>
    private const string Holder = """
        import sqlite3, sys
        store = sqlite3.connect(sys.argv[1])
        store.execute("select count(*) from lot").fetchall()
        print("held", file=sys.stderr, flush=True)
        sys.stdin.read()
        """;

    private readonly Darkroom _darkroom = new();

    private string Store => Path.Combine(_darkroom.Data, "acquire.db");

    public void Dispose() => _darkroom.Dispose();

    [Theory]
    [InlineData(1, "the copy is ready")]
    [InlineData(2, "the store is set aside, its log is not")]
    [InlineData(3, "the log is set aside, its index is not")]
    [InlineData(4, "all is set aside, the copy is not in place")]
    public async Task Restore_that_is_killed_is_finished_or_taken_back_by_the_next_command(int rename, string state)
    {
        Tools.Require("python3", "strace");
        await StoreWithLogAsync();

        Assert.Equal(137, await RestoreAsync($"inject=rename:signal=KILL:when={rename}"));
        string[] left = [.. Directory.GetFiles(_darkroom.Data).Select(f => Path.GetFileName(f)!)];
        Assert.Contains("acquire.db.restoring", left);
        Assert.Equal(rename > 1, !left.Contains("acquire.db"));
        Assert.Equal(rename > 2, !left.Contains("acquire.db-wal"));
        Assert.Equal(rename > 3, !left.Contains("acquire.db-shm"));

        var lots = (await _darkroom.JsonAsync("lot", "list")).EnumerateArray().Select(l => l.GetProperty("code").GetString()).ToList();
        Assert.True(lots.Contains(Newest) == (rename == 1) && lots.Contains(Darkroom.Lot), $"{state}: {string.Join(' ', lots)}");
        Assert.DoesNotContain("acquire.db.restoring", Directory.GetFiles(_darkroom.Data).Select(Path.GetFileName));
        _ = await _darkroom.DoAsync("verify");
        if (rename > 1)
        {
            var aside = Assert.Single(Directory.GetFiles(_darkroom.Data, "acquire-set-aside-*.db"));
            Assert.Contains("2 lots", await _darkroom.DoAsync("verify", "--file", aside), StringComparison.Ordinal);
        }
    }

    /// <summary>What the test above rests on: there are these renames and no others.</summary>
    [Fact]
    public async Task Restore_makes_four_renames_and_a_fifth_is_never_reached()
    {
        Tools.Require("python3", "strace");
        await StoreWithLogAsync();

        Assert.Equal(0, await RestoreAsync("inject=rename:signal=KILL:when=5"));

        Assert.DoesNotContain(Newest, await _darkroom.DoAsync("lot", "list"), StringComparison.Ordinal);
    }

    private async Task StoreWithLogAsync()
    {
        await _darkroom.AddLotAsync();
        _ = await _darkroom.DoAsync("backup", Path.Combine(_darkroom.Folder, Backup));
        await using var holder = RunningProgram.Start("python3", ["-c", Holder, Store], typed: true);
        await holder.SaidAsync("held");
        _ = await _darkroom.DoAsync("lot", "add", Newest, "--process", "c41");
        await holder.DisposeAsync();
        Assert.True(new FileInfo(Store + "-wal").Length > 0);
    }

    /// <summary>
    /// Counted are the renames of the store's own files, after the copy got its name. One worker, for the tracer counts those of each
    /// thread by itself.
    /// </summary>
    private async Task<int> RestoreAsync(string injected)
    {
        await using var restore = RunningProgram.Start(
            "strace",
            [
                "-f", "-qq", "-o", Path.Combine(_darkroom.Folder, "trace"), "-E", "DOTNET_ThreadPool_ForceMaxWorkerThreads=1",
                .. new[] { "", "-wal", "-shm", ".restoring" }.SelectMany(ending => new[] { "-P", Store + ending }),
                "-e", "trace=rename", "-e", injected, Path.Combine(AppContext.BaseDirectory, "acquire"),
                "restore", Path.Combine(_darkroom.Folder, Backup), "--data", _darkroom.Data,
            ],
            _darkroom.Folder);
        var code = await restore.ExitAsync();
        Assert.True(code is 0 or 137, $"Exit code {code}, or tracing is not allowed here.\n{restore.Out}{restore.Error}");
        return code;
    }
}

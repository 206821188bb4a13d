using Acquire.EndToEnd.Tests.Support;
using KillTrials;

namespace Acquire.EndToEnd.Tests.Crash;

/// <summary>
/// The program killed at random instants. A few runs of each kind, the same each time; <c>tools/KillTrials</c> makes some hundreds. A
/// kill does not test a power cut: that what is committed is on the disk is the work of <c>synchronous = FULL</c>.
/// </summary>
[Trait("speed", "slow")]
public sealed class KillTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("acquire-kill-").FullName;

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public async Task Killed_while_reading_nothing_acknowledged_is_lost_or_doubled()
    {
        Tools.Require("python3");
        var tally = await new ReadingTrials(Path.Combine(_folder, "reading"), seed: 7).RunAsync(9, Token);
        Assert.Empty(tally.Wrong);
        Assert.InRange(tally.Killed, 3, tally.Runs);
        Assert.True(tally.Acknowledged > 50 && tally.Finished > 0, tally.ToString());
    }

    [Fact]
    public async Task Killed_during_an_upgrade_the_store_is_of_the_old_or_the_new_version_and_whole()
    {
        Tools.Require("python3");
        var tally = await new CopyTrials(_folder, seed: 7).UpgradeAsync(3, Token);
        Assert.Empty(tally.Wrong);
        Assert.True(tally.Killed > 0, tally.ToString());
    }

    [Fact]
    public async Task Killed_during_a_backup_leaves_a_whole_copy_or_none()
    {
        Tools.Require("python3");
        var tally = await new CopyTrials(_folder, seed: 7).BackUpAsync(3, Token);
        Assert.Empty(tally.Wrong);
        Assert.True(tally.Killed > 0, tally.ToString());
    }

    /// <summary>What the user sees and types after a crash.</summary>
    [Fact]
    public async Task Session_of_a_killed_program_is_named_and_goes_on_at_the_same_read_on_another_port()
    {
        using var darkroom = new Darkroom();
        await using var cable = await SerialCable.LayAsync(darkroom.Folder);
        await darkroom.AddLotAsync();
        string[] options = ["--profile", "labelled-line", "--lot", Darkroom.Lot, "--reads", "1"];
        await using (var read = darkroom.Start(["read", "--port", cable.Near, .. options, "--line", "dip tank"]))
        {
            await read.SaidAsync("next: D-min");
            await cable.SendAsync("R 0.26 G 0.62 B 0.80\r\nR 0.46 G 0.84 B 1.04\r\nR 1.2"u8.ToArray(), seed: 1);
            await read.SaidAsync("next: HD, read 1 of 1");
            await Task.Delay(TimeSpan.FromMilliseconds(300), TimeProvider.System, Token);
        }

        await cable.PullAsync();
        await using var other = await SerialCable.LayAsync(Directory.CreateDirectory(Path.Combine(darkroom.Folder, "other")).FullName);
        await using (var second = darkroom.Start(["read", "--port", other.Near, .. options]))
        {
            await second.SaidAsync("next: D-min");
            Assert.Contains("was broken off. Go on with it: acquire resume ", second.Error, StringComparison.Ordinal);
            Assert.Equal(2, await second.SignalAsync("TERM"));
        }

        await using var resume = darkroom.Start("resume", "--port", other.Near);
        await resume.SaidAsync("next: HD, read 1 of 1");
        Assert.Contains("2 reads are taken", resume.Error, StringComparison.Ordinal);
        Assert.Contains("A line was cut when the session broke off: 'R 1.2'", resume.Error, StringComparison.Ordinal);
        var session = Assert.Single(
            (await darkroom.JsonAsync("session", "list")).EnumerateArray(),
            s => !s.TryGetProperty("outcome", out var o) || o.ValueKind == System.Text.Json.JsonValueKind.Null);
        Assert.Equal(resume.Id, session.GetProperty("readByProcess").GetInt32());
        var (code, _, error) = await darkroom.RunAsync("resume", session.GetProperty("id").GetString()!);
        Assert.Equal((2, true), (code, error.Contains("is being read by acquire resume, process", StringComparison.Ordinal)));
        await other.SendAsync("R 1.26 G 1.74 B 2.00\r\nR 2.12 G 2.58 B 2.92\r\nR 0.37 G 0.88 B 2.72\r\n"u8.ToArray(), seed: 2);
        Assert.True(await resume.ExitAsync() is 0 or 1, resume.Error);

        Assert.Contains("dip tank", await darkroom.DoAsync("strip", "list"), StringComparison.Ordinal);
        var nothing = await darkroom.RunAsync("resume");
        Assert.Equal(2, nothing.Code);
        Assert.Contains("No session was broken off", nothing.Error, StringComparison.Ordinal);
        var shown = await darkroom.DoAsync("session", "show", session.GetProperty("id").GetString()!);
        Assert.Contains("completed", shown, StringComparison.Ordinal);
        Assert.Contains("R 1.2", shown, StringComparison.Ordinal);
    }
}

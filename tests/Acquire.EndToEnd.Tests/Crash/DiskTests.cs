using System.Text;
using Acquire.EndToEnd.Tests.Support;

namespace Acquire.EndToEnd.Tests.Crash;

/// <summary>
/// A disk that fills up or fails in the middle of a strip: the program stops, says so, and goes on once it can write again.
/// </summary>
[Trait("speed", "slow")]
public sealed class DiskTests : IDisposable
{
    private static readonly string[] Strip =
    [
        "R 0.26 G 0.62 B 0.80", "R 0.27 G 0.62 B 0.80", "R 0.46 G 0.84 B 1.04", "R 0.46 G 0.85 B 1.04", "R 1.26 G 1.74 B 2.00",
        "R 1.27 G 1.74 B 2.00", "R 2.12 G 2.58 B 2.92", "R 2.13 G 2.58 B 2.92", "R 0.37 G 0.88 B 2.72", "R 0.38 G 0.88 B 2.72",
    ];

    private readonly Darkroom _darkroom = new();

    public void Dispose() => _darkroom.Dispose();

    [Fact]
    public async Task Full_disk_in_mid_strip_stops_the_session_which_goes_on_once_there_is_room()
    {
        await using var disk = await SmallDisk.InMemoryAsync(_darkroom.Data, megabytes: 4);
        await InterruptedAsync(
            () =>
            {
                disk.Fill();
                return Task.CompletedTask;
            },
            () =>
            {
                disk.Empty();
                return Task.CompletedTask;
            },
            "the disk is full");
    }

    [Fact]
    public async Task Disk_that_turns_read_only_in_mid_strip_stops_the_session_which_goes_on_once_it_is_mended()
    {
        await using var disk = await SmallDisk.OnBlockDeviceAsync(_darkroom.Data, megabytes: 16);
        await InterruptedAsync(disk.FailAsync, disk.MendAsync, "");
    }

    private async Task InterruptedAsync(Func<Task> breakDisk, Func<Task> mendDisk, string says)
    {
        await using var cable = await SerialCable.LayAsync(_darkroom.Folder);
        await _darkroom.AddLotAsync();
        await using var read =
            _darkroom.Start("read", "--port", cable.Near, "--profile", "labelled-line", "--lot", Darkroom.Lot, "--reads", "2");
        await read.SaidAsync("next: D-min");
        await cable.SendAsync(Bytes(Strip[..5]), seed: 1);
        await read.SaidAsync("next: HD, read 2 of 2");
        await breakDisk();

        // Room that the store's own files still have is used up first.
        var sent = 5;
        while (!read.Error.Contains("Not completed", StringComparison.Ordinal) && sent < 9)
        {
            await cable.SendAsync(Bytes(Strip[sent..(sent + 1)]), seed: 2);
            sent++;
            await Task.Delay(TimeSpan.FromMilliseconds(500), TimeProvider.System, TestContext.Current.CancellationToken);
        }

        Assert.Equal(4, await read.ExitAsync());
        Assert.Contains(says, read.Error, StringComparison.Ordinal);
        Assert.Contains("Go on at the same patch and read: acquire resume", read.Error, StringComparison.Ordinal);
        var acknowledged = read.Error.Split('\n').Count(l => l.Contains("  taken: ", StringComparison.Ordinal));
        var rescue = Assert.Single(Directory.GetFiles(_darkroom.Folder, "acquire-rescued-*.txt"));
        var text = await File.ReadAllLinesAsync(rescue, TestContext.Current.CancellationToken);
        var rescued = text.Where(l => !l.StartsWith('#')).Select(l => l.Split('\t')[2]).ToList();
        Assert.InRange(rescued.Count, acknowledged, sent);
        Assert.Equal(Strip[..rescued.Count], rescued);
        Assert.Contains(text, l => l.StartsWith("# ", StringComparison.Ordinal) && l.Contains("\tReceived\tR", StringComparison.Ordinal));

        await cable.PullAsync();
        await mendDisk();
        await using var again = await SerialCable.LayAsync(_darkroom.Folder);
        await using var resume = _darkroom.Start("resume");
        await resume.SaidAsync("next: ");
        Assert.Contains($"{acknowledged} reads are taken", resume.Error, StringComparison.Ordinal);
        await again.SendAsync(Bytes(Strip[acknowledged..]), seed: 3);
        Assert.True(await resume.ExitAsync() is 0 or 1, resume.Error);
        var list = await _darkroom.JsonAsync("strip", "list");
        var strip = await _darkroom.JsonAsync("strip", "show", Assert.Single(list.EnumerateArray()).GetProperty("id").GetString()!);
        Assert.Equal(Strip, strip.GetProperty("patches").EnumerateArray()
            .SelectMany(p => p.GetProperty("reads").EnumerateArray())
            .SelectMany(r => r.GetProperty("lines").EnumerateArray())
            .Select(l => l.GetString()!));
    }

    private static byte[] Bytes(IEnumerable<string> lines) => Encoding.ASCII.GetBytes(string.Concat(lines.Select(l => l + "\r\n")));
}

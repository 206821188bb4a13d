using Acquire.EndToEnd.Tests.Support;

namespace Acquire.EndToEnd.Tests.Service;

/// <summary>
/// Another program holds the store for longer than a write waits by itself. Eight seconds here, so that the test is short: what is waited
/// for is the same at thirty, and the bound of a minute is the session's own.
/// </summary>
[Trait("speed", "slow")]
public class LockedStoreTests
{
    [Fact]
    public async Task Locked_store_is_waited_for_and_said_and_nothing_is_lost()
    {
        await using var work = await DarkroomAtWork.EquipAsync("bench", "other");
        await using var service = await RunningService.StartAsync(work.Darkroom);
        _ = await service.LinkAsync("bench", "connected");
        _ = await service.LinkAsync("other", "connected");
        await using var read =
            work.Darkroom.Start("read", "--instrument", "bench", "--lot", Darkroom.Lot, "--line", "dip tank", "--reads", "1");
        await read.SaidAsync("next: D-min");
        await using (var locker = await work.LockStoreAsync(seconds: 8))
        {
            await work.Ports.SendAsync("bench", DarkroomAtWork.Strip[..2]);
            await work.Ports.SendAsync("other", "R 0.31 G 0.61 B 0.81");

            // It answers all the while, and says why nothing moves.
            Assert.Equal("dmin 1", RunningService.Next((await service.GetAsync("sessions"))[0]));
            await read.UntilAsync(
                () => read.Error.Contains("store", StringComparison.OrdinalIgnoreCase)
                    || read.Error.Contains("database", StringComparison.OrdinalIgnoreCase),
                "a word on the store");
            Assert.Equal(0, await locker.ExitAsync());
        }

        await read.SaidAsync("next: HD");
        await work.Ports.SendAsync("bench", DarkroomAtWork.Strip[2..]);
        Assert.True(await read.ExitAsync() == 0, read.Error);
        var loose = await service.UntilAsync("instruments/other/loose", l => l.GetArrayLength() == 1, "the loose reading");
        Assert.Equal("R 0.31 G 0.61 B 0.81", loose[0].GetProperty("lines")[0].GetString());
        Assert.Equal(DarkroomAtWork.Strip, RunningService.Lines((await service.GetAsync("sessions"))[0]));
    }

    [Fact]
    public async Task Service_that_finds_the_store_locked_when_it_starts_reads_as_soon_as_it_is_free()
    {
        await using var work = await DarkroomAtWork.EquipAsync("bench");
        await using var locker = await work.LockStoreAsync(seconds: 3);
        await using var service = await RunningService.StartAsync(work.Darkroom);
        _ = await service.LinkAsync("bench", "connected");
    }
}

using Acquire.EndToEnd.Tests.Support;

namespace Acquire.EndToEnd.Tests.Service;

/// <summary>Service or client killed with <c>kill -9</c> in the middle of a strip.</summary>
[Trait("speed", "slow")]
public class KilledTests
{
    [Fact]
    public async Task Killed_service_goes_on_when_it_is_started_again_and_the_terminal_comes_back_by_itself()
    {
        await using var work = await DarkroomAtWork.EquipAsync("bench");
        await using var killed = await RunningService.StartAsync(work.Darkroom);
        _ = await killed.LinkAsync("bench", "connected");
        await using var read = work.Darkroom.Start("read", "--lot", Darkroom.Lot, "--line", "dip tank", "--reads", "1");
        await read.SaidAsync("next: D-min");
        await work.Ports.SendAsync("bench", DarkroomAtWork.Strip[..2]);
        await read.SaidAsync("next: HD");
        await work.Ports.SendRawAsync("bench", "R 1.2");
        _ = await killed.UntilAsync("sessions", s => s[0].GetProperty("sequence").GetInt32() > 2, "the cut line");
        Assert.NotEqual(0, await killed.Program.SignalAsync("KILL"));
        await read.SaidAsync("The service went away");

        await using var again = await RunningService.StartAsync(work.Darkroom);
        var session = Assert.Single((await again.GetAsync("sessions")).EnumerateArray());
        Assert.Equal(("reading", "hd 1"), (RunningService.State(session), RunningService.Next(session)));
        Assert.Equal(DarkroomAtWork.Strip[..2], RunningService.Lines(session));
        await read.SaidAsync("The service is back.");
        await read.SaidTimesAsync("next: HD", 2);
        _ = await again.LinkAsync("bench", "connected");
        await work.Ports.SendAsync("bench", DarkroomAtWork.Strip[2..]);
        Assert.True(await read.ExitAsync() == 0, read.Error);
        Assert.Equal(1, read.Error.Split("The service went away").Length - 1);
        var done = await again.SessionAsync(session);
        Assert.Equal("completed", RunningService.State(done));
        Assert.Equal(DarkroomAtWork.Strip, RunningService.Lines(done));
        Assert.Contains("dip tank", read.Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Session_of_a_killed_client_goes_on_and_is_completed()
    {
        await using var work = await DarkroomAtWork.EquipAsync("bench");
        await using var service = await RunningService.StartAsync(work.Darkroom);
        _ = await service.LinkAsync("bench", "connected");
        await using (var read = work.Darkroom.Start("read", "--lot", Darkroom.Lot, "--line", "dip tank", "--reads", "1"))
        {
            await read.SaidAsync("next: D-min");
            await work.Ports.SendAsync("bench", DarkroomAtWork.Strip[..2]);
            await read.SaidAsync("next: HD");
            await read.SignalAsync("KILL");
        }

        var session = Assert.Single((await service.GetAsync("sessions")).EnumerateArray());
        Assert.Equal("reading", RunningService.State(session));
        await work.Ports.SendAsync("bench", DarkroomAtWork.Strip[2..]);
        var done = await service.CompletedAsync(session);
        Assert.Equal(DarkroomAtWork.Strip, RunningService.Lines(done));
        Assert.Contains("dip tank", await work.Darkroom.DoAsync("strip", "list"), StringComparison.Ordinal);
    }
}

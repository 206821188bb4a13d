using System.Text;
using Acquire.EndToEnd.Tests.Support;

namespace Acquire.EndToEnd.Tests.Service;

/// <summary>What happens at one instrument is nothing to the others.</summary>
[Trait("speed", "slow")]
public class ManyInstrumentsTests
{
    // Far more than a reading takes, also on a busy machine; one that waits for another instrument's loop would wait for ever.
    private static readonly TimeSpan Soon = TimeSpan.FromSeconds(10);

    [Fact]
    public async Task Unplugged_instrument_disturbs_no_other_session_and_goes_on_where_it_was()
    {
        string[] names = ["one", "two", "three"];
        await using var work = await DarkroomAtWork.EquipAsync(names);
        await using var service = await RunningService.StartAsync(work.Darkroom);
        foreach (var name in names)
        {
            _ = await service.LinkAsync(name, "connected");
        }

        var sessions = await Task.WhenAll(names.Select(n => service.BeginStripAsync(n, reads: 1)));
        var (busy, problem) = await service.PostAsync("sessions", new { purpose = "strip", instrument = "one", lot = Darkroom.Lot });
        Assert.InRange(busy, 400, 422);
        Assert.Contains("A session reads with one now", problem.GetProperty("detail").GetString(), StringComparison.Ordinal);
        await Task.WhenAll(names.Select(n => work.Ports.SendAsync(n, DarkroomAtWork.Strip[..2])));
        await Task.WhenAll(sessions.Select(s => service.NextAsync(s, "hd 1")));

        await work.Ports.UnplugAsync("two");
        var away = await service.UntilAsync(
            "instruments/two", i => i.GetProperty("live").GetProperty("link").GetString() is "gone" or "reconnecting", "two away");
        Assert.Contains(work.Ports.PathOf("two"), away.GetProperty("live").GetProperty("message").GetString(), StringComparison.Ordinal);
        await Task.WhenAll(new[] { "one", "three" }.Select(n => work.Ports.SendAsync(n, DarkroomAtWork.Strip[2..])));
        Assert.Equal(DarkroomAtWork.Strip, RunningService.Lines(await service.CompletedAsync(sessions[0])));
        Assert.Equal(DarkroomAtWork.Strip, RunningService.Lines(await service.CompletedAsync(sessions[2])));
        Assert.Equal("hd 1", RunningService.Next(await service.SessionAsync(sessions[1])));

        await work.Ports.PlugAsync("two");
        _ = await service.LinkAsync("two", "connected");
        await work.Ports.SendAsync("two", DarkroomAtWork.Strip[2..]);
        Assert.Equal(DarkroomAtWork.Strip, RunningService.Lines(await service.CompletedAsync(sessions[1])));
        Assert.Equal(3, (await work.QueryAsync("select id from bench_session")).Count);
    }

    [Fact]
    public async Task Flood_at_one_port_slows_no_other_session()
    {
        await using var work = await DarkroomAtWork.EquipAsync("noisy", "bench");
        await using var service = await RunningService.StartAsync(work.Darkroom);
        _ = await service.LinkAsync("noisy", "connected");
        _ = await service.LinkAsync("bench", "connected");
        var noise = new StringBuilder();
        var dice = new Random(5);
        while (noise.Length < 4000)
        {
            _ = noise.Append((char)dice.Next(256));
        }

        await work.Ports.FloodAsync("noisy", noise.ToString());
        _ = await service.UntilAsync(
            "instruments/noisy",
            i => i.GetProperty("live").GetProperty("lastHeard").ValueKind != System.Text.Json.JsonValueKind.Null, "noise");
        var session = await service.BeginStripAsync("bench", reads: 1);
        string?[] next = ["ld 1", "hd 1", "dmax 1", "yellow 1", null];
        for (var i = 0; i < next.Length; i++)
        {
            var begun = TimeProvider.System.GetTimestamp();
            await work.Ports.SendAsync("bench", DarkroomAtWork.Strip[i]);
            _ = next[i] is { } patch ? await service.NextAsync(session, patch) : await service.CompletedAsync(session);
            var took = TimeProvider.System.GetElapsedTime(begun);
            Assert.True(took < Soon, $"read {i + 1} took {took}");
        }

        // The flood ran all the while.
        var heard = (await service.GetAsync("instruments/noisy")).GetProperty("live").GetProperty("lastHeard").GetDateTimeOffset();
        Assert.True(heard > session.GetProperty("begunAt").GetDateTimeOffset(), $"{heard:O}");
        await work.Ports.CalmAsync("noisy");
    }
}

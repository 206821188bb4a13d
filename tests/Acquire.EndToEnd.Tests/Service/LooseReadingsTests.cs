using System.Text.Json;
using Acquire.EndToEnd.Tests.Support;

namespace Acquire.EndToEnd.Tests.Service;

/// <summary>Readings that came while no session ran: kept, shown, and taken into a session only by somebody who names them.</summary>
[Trait("speed", "slow")]
public class LooseReadingsTests
{
    private const int Many = 200;

    [Fact]
    public async Task Two_hundred_loose_readings_are_kept_and_only_those_that_are_named_begin_a_session()
    {
        await using var work = await DarkroomAtWork.EquipAsync("bench");
        string[] lines =
        [
            .. Enumerable.Range(0, Many - 3).Select(i => FormattableString.Invariant($"R 1.{i % 100:00} G 1.{i / 2 % 100:00} B 1.55")),
            .. DarkroomAtWork.Strip[..3],
        ];
        string[] ids;
        JsonElement session;
        await using (var service = await RunningService.StartAsync(work.Darkroom))
        {
            _ = await service.LinkAsync("bench", "connected");
            await work.Ports.SendAsync("bench", lines);
            var loose = await service.UntilAsync("instruments/bench/loose", l => l.GetArrayLength() == Many, "all loose readings");
            Assert.Equal(lines, loose.EnumerateArray().Select(l => l.GetProperty("lines")[0].GetString()));
            ids = [.. loose.EnumerateArray().Select(l => l.GetProperty("id").GetString()!)];
            Assert.Equal(Many, ids.Distinct().Count());
            Assert.Equal(Many, await UntakenAsync(service));

            // Nothing is taken that nobody names.
            var silent = await service.BeginStripAsync("bench", reads: 1);
            Assert.Equal("dmin 1", RunningService.Next(silent));
            Assert.Empty(RunningService.Lines(silent));
            var (ended, _) =
                await service.PostAsync($"sessions/{silent.GetProperty("id").GetString()}/commands", new { command = "cancel" });
            Assert.Equal(200, ended);
            Assert.Equal(Many, await UntakenAsync(service));

            session = await service.BeginStripAsync("bench", reads: 1, loose: ids[^3..]);
            Assert.Equal("dmax 1", RunningService.Next(session));
            Assert.Equal(DarkroomAtWork.Strip[..3], RunningService.Lines(session));
            Assert.Equal(Many - 3, await UntakenAsync(service));
        }

        // After a restart all are still there, and what was taken stays taken.
        await using var again = await RunningService.StartAsync(work.Darkroom);
        var kept = (await again.GetAsync("instruments/bench/loose")).EnumerateArray().ToList();
        Assert.Equal(ids, kept.Select(l => l.GetProperty("id").GetString()));
        Assert.All(kept[^3..], l => Assert.Equal(session.GetProperty("id").GetString(), l.GetProperty("takenBy").GetString()));
        Assert.Equal("dmax 1", RunningService.Next(await again.SessionAsync(session)));
        _ = await again.LinkAsync("bench", "connected");
        await work.Ports.SendAsync("bench", DarkroomAtWork.Strip[3..]);
        Assert.Equal(DarkroomAtWork.Strip, RunningService.Lines(await again.CompletedAsync(session)));

        _ = await again.UntilAsync(
            "instruments/bench", i => !i.GetProperty("live").GetProperty("beingRead").GetBoolean(), "an instrument that is free");
        var (twice, problem) = await again.PostAsync(
            "sessions", new { purpose = "strip", instrument = "bench", lot = Darkroom.Lot, line = "dip tank", loose = ids[^1..] });
        Assert.InRange(twice, 400, 422);
        Assert.Contains("already", problem.GetProperty("detail").GetString(), StringComparison.Ordinal);
        Assert.StartsWith("SOUND", await work.Darkroom.DoAsync("verify"), StringComparison.Ordinal);
    }

    private static async Task<int> UntakenAsync(RunningService service) =>
        (await service.GetAsync("instruments/bench")).GetProperty("live").GetProperty("looseReadings").GetInt32();
}

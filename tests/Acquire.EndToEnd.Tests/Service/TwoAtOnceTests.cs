using System.Net.Http.Json;
using System.Text.Json;
using Acquire.EndToEnd.Tests.Support;

namespace Acquire.EndToEnd.Tests.Service;

/// <summary>Two clients operate one session at once: nothing is done twice, and nothing to another patch than its sender saw.</summary>
[Trait("speed", "slow")]
public class TwoAtOnceTests
{
    private const int Rounds = 25;
    private const int Commands = 3;

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Fact]
    public async Task No_action_is_doubled_and_none_falls_on_another_patch()
    {
        await using var work = await DarkroomAtWork.EquipAsync("bench");
        await using var service = await RunningService.StartAsync(work.Darkroom);
        _ = await service.LinkAsync("bench", "connected");
        var session = await service.BeginStripAsync("bench", reads: 3, keepAfter: 600);
        using var first = service.Client();
        using var second = service.Client();
        var given = new List<Given>();
        for (var round = 0; round < Rounds; round++)
        {
            // While both press keys, the instrument's own key is pressed too.
            var before = await service.SessionAsync(session);
            await work.Ports.SendAsync("bench", DarkroomAtWork.Strip[0]);
            if (round % 2 == 0)
            {
                before = await service.UntilAsync(
                    $"sessions/{session.GetProperty("id").GetString()}",
                    s => s.GetProperty("sequence").GetInt32() > before.GetProperty("sequence").GetInt32() && Reads(s) > Reads(before),
                    "the read");
            }

            given.AddRange(await Task.WhenAll(
                from client in new[] { (Name: "first", Http: first), (Name: "second", Http: second) }
                from n in Enumerable.Range(1, Commands)
                select GiveAsync(client.Http, before, $"{client.Name} client, round {round}, command {n}")));
        }

        var done = given.Where(g => g.Done).ToList();
        Assert.InRange(done.Count, Rounds / 4, Rounds);
        Assert.All(given.GroupBy(g => g.Seen), same => Assert.True(same.Count(g => g.Done) <= 1, $"two for {same.Key}"));
        var journal = (await work.QueryAsync("select sequence, event, bytes, decision from session_entry order by sequence"))
            .Select(e => (Number: e[0].GetInt32(), Bytes: e[2].GetString(), Reason: Reason(e[3])))
            .ToList();
        Assert.Equal(done.Select(d => d.Reason).Order(), journal.Select(e => e.Reason).OfType<string>().Order());
        foreach (var one in done)
        {
            // Between what its sender saw and the command itself no reading ended, so it fell on the read that was seen.
            var at = journal.Single(e => e.Reason == one.Reason).Number;
            Assert.DoesNotContain(
                journal, e => e.Number > one.Seen && e.Number < at && (e.Reason is not null || e.Bytes?.Contains('\n') is true));
        }

        var excluded = (await service.SessionAsync(session)).GetProperty("patches").EnumerateArray()
            .SelectMany(p => p.GetProperty("reads").EnumerateArray())
            .Select(r => r.GetProperty("excluded").GetString())
            .OfType<string>()
            .ToList();
        Assert.Equal(excluded.Distinct(), excluded);
        Assert.Subset(done.Select(d => d.Reason).ToHashSet(), excluded.ToHashSet());
    }

    [Fact]
    public async Task Two_terminals_show_the_same_and_a_key_pressed_at_both_counts_once_for_what_was_seen()
    {
        await using var work = await DarkroomAtWork.EquipAsync("bench");
        await using var service = await RunningService.StartAsync(work.Darkroom);
        _ = await service.LinkAsync("bench", "connected");
        var session = await service.BeginStripAsync("bench", reads: 1, keepAfter: 600);
        var id = session.GetProperty("id").GetString()!;
        (string, string)[] keys = [("Place the patch and read: HD", "u"), ("All patches are read", "\r")];
        await using var one = work.Darkroom.StartAtKeyboard(keys, ["resume", id]);
        await using var other = work.Darkroom.StartAtKeyboard(keys, ["resume", id]);
        foreach (var person in new[] { one, other })
        {
            await person.UntilAsync(() => person.Out.Contains("read: D-min", StringComparison.Ordinal), "the first patch");
        }

        await work.Ports.SendAsync("bench", DarkroomAtWork.Strip[..2]);
        foreach (var person in new[] { one, other })
        {
            await person.UntilAsync(() => person.Out.Contains("Last step taken back.", StringComparison.Ordinal), "the step taken back");
        }

        var decided = await work.QueryAsync("select decision from session_entry where event = 'decided' order by sequence");
        var next = RunningService.Next(await service.SessionAsync(session));
        Assert.Equal(decided.Count == 1 ? "ld 1" : "dmin 1", next);
        await work.Ports.SendAsync("bench", next == "ld 1" ? DarkroomAtWork.Strip[1..] : DarkroomAtWork.Strip);
        foreach (var person in new[] { one, other })
        {
            Assert.True(await person.ExitAsync() is 0 or 1, person.Out);
            Assert.Contains(Darkroom.Lot, person.Out, StringComparison.Ordinal);
        }

        Assert.Single(await work.QueryAsync("select id from strip"));
    }

    private static int Reads(JsonElement session) =>
        session.GetProperty("patches").EnumerateArray().Sum(p => p.GetProperty("reads").GetArrayLength());

    private static string? Reason(JsonElement decision) => decision.ValueKind == JsonValueKind.String
        && JsonDocument.Parse(decision.GetString()!).RootElement is var said
        && said.GetProperty("do").GetString() == "leave_out_read"
            ? said.GetProperty("reason").GetString()
            : null;

    private static async Task<Given> GiveAsync(HttpClient client, JsonElement seen, string reason)
    {
        var sequence = seen.GetProperty("sequence").GetInt32();
        using var answer = await client.PostAsJsonAsync(
            $"/api/v1/sessions/{seen.GetProperty("id").GetString()}/commands", new { command = "leaveOutRead", sequence, reason }, Token);
        Assert.True((int)answer.StatusCode is 200 or 409, $"{answer.StatusCode}");
        return new Given(sequence, reason, (int)answer.StatusCode == 200);
    }

    private sealed record Given(int Seen, string Reason, bool Done);
}

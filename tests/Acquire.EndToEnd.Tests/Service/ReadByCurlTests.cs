using System.Text.Json;
using Acquire.EndToEnd.Tests.Support;

namespace Acquire.EndToEnd.Tests.Service;

/// <summary>A strip read with nothing but <c>curl</c>, by the contract for scripts.</summary>
[Trait("speed", "slow")]
public class ReadByCurlTests
{
    [Fact]
    public async Task Strip_is_read_by_curl_alone()
    {
        Tools.Require("curl");
        await using var work = await DarkroomAtWork.EquipAsync();
        await using var service = await RunningService.StartAsync(work.Darkroom);
        Assert.Equal("200", (await CurlAsync(service, "-w", "%{http_code}", "-o", Nowhere, "/health/ready")).Text);
        Assert.True(JsonDocument.Parse((await CurlAsync(service, "/openapi/v1.json")).Text).RootElement.TryGetProperty("paths", out _));
        if (!OperatingSystem.IsWindows())
        {
            var file = Path.Combine(work.Darkroom.Data, "service.json");
            Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite, File.GetUnixFileMode(file));
        }

        var (refused, unknown) = await CurlAsync(service, "/api/v1/sessions", "-i", "-H", "Authorization: Bearer wrong");
        Assert.Contains(" 401 ", refused, StringComparison.Ordinal);
        Assert.Equal(401, unknown!.Value.GetProperty("status").GetInt32());

        var (added, _) = await PostAsync(
            service, "/api/v1/instruments", new { name = "bench", port = await work.Ports.PlugAsync("bench"), profile = "labelled-line" });
        Assert.Contains(" 201 ", added, StringComparison.Ordinal);
        _ = await service.LinkAsync("bench", "connected");

        var (begun, session) = await PostAsync(
            service,
            "/api/v1/sessions",
            new { purpose = "strip", instrument = "bench", lot = Darkroom.Lot, line = "dip tank", readsPerPatch = 1 });
        var id = session.GetProperty("id").GetString();
        Assert.Contains(" 201 ", begun, StringComparison.Ordinal);
        Assert.Matches($"(?im)^location: .*/api/v1/sessions/{id}\\s*$", begun);
        Assert.Equal(("reading", "dmin 1"), (RunningService.State(session), RunningService.Next(session)));
        var (_, same) = await GetAsync(service, $"/api/v1/sessions/{id}");
        Assert.Equal(session.GetProperty("sequence").GetInt32(), same.GetProperty("sequence").GetInt32());

        await work.Ports.SendAsync("bench", DarkroomAtWork.Strip[..2]);
        var read = await service.NextAsync(session, "hd 1");
        var (stale, problem) = await PostAsync(
            service, $"/api/v1/sessions/{id}/commands", new { command = "undo", sequence = session.GetProperty("sequence").GetInt32() });
        Assert.Contains(" 409 ", stale, StringComparison.Ordinal);
        Assert.Equal("hd 1", RunningService.Next(problem.GetProperty("session")));
        Assert.NotEmpty(problem.GetProperty("since").EnumerateArray());
        var (done, undone) = await PostAsync(
            service, $"/api/v1/sessions/{id}/commands", new { command = "undo", sequence = read.GetProperty("sequence").GetInt32() });
        Assert.Contains(" 200 ", done, StringComparison.Ordinal);
        Assert.Equal("ld 1", RunningService.Next(undone));

        await work.Ports.SendAsync("bench", DarkroomAtWork.Strip[1..]);
        var completed = await service.CompletedAsync(session);
        var strip = completed.GetProperty("strip").GetString()!;
        var (_, shown) = await GetAsync(service, $"/api/v1/strips/{strip}");
        Assert.True(JsonElement.DeepEquals(await work.Darkroom.JsonAsync("strip", "show", strip), shown), shown.ToString());

        // Behind the last event that was seen, and numbered by the journal.
        var (events, _) = await CurlAsync(service, $"/api/v1/sessions/{id}/events", "-H", $"Last-Event-ID: {read.GetProperty("sequence")}");
        var numbers = events.Split('\n')
            .Where(l => l.StartsWith("id: ", StringComparison.Ordinal))
            .Select(l => int.Parse(l[4..].Trim(), CultureInfo.InvariantCulture))
            .ToList();
        Assert.Equal(numbers.Order(), numbers);
        Assert.True(numbers[0] > read.GetProperty("sequence").GetInt32(), events);
        Assert.Equal(completed.GetProperty("sequence").GetInt32(), numbers[^1]);
    }

    private static string Nowhere => OperatingSystem.IsWindows() ? "NUL" : "/dev/null";

    private static async Task<(string Head, JsonElement Body)> GetAsync(RunningService service, string path)
    {
        var (text, body) = await CurlAsync(service, path, "-i");
        return (text, body ?? throw new InvalidOperationException(text));
    }

    private static async Task<(string Head, JsonElement Body)> PostAsync(RunningService service, string path, object body)
    {
        var (text, answer) = await CurlAsync(
            service, path, "-i", "-H", "Content-Type: application/json", "-d", JsonSerializer.Serialize(body));
        return (text, answer ?? throw new InvalidOperationException(text));
    }

    /// <summary>What curl wrote, and the JSON in it where its last line is some.</summary>
    private static async Task<(string Text, JsonElement? Body)> CurlAsync(RunningService service, params string[] arguments)
    {
        string[] given = [.. arguments.Select(a => a.StartsWith('/') && a != Nowhere ? service.Url + a : a)];
        string[] token = given.Any(a => a.StartsWith("Authorization", StringComparison.Ordinal))
            ? []
            : ["-H", $"Authorization: Bearer {service.SecretToken}"];
        await using var curl = RunningProgram.Start("curl", ["--silent", "--max-time", "60", .. token, .. given]);
        Assert.True(await curl.ExitAsync() == 0, curl.Error);
        var json = curl.Out.IndexOf("\n{", StringComparison.Ordinal);
        return (curl.Out.Trim(), json < 0 ? null : JsonDocument.Parse(curl.Out[(json + 1)..]).RootElement);
    }
}

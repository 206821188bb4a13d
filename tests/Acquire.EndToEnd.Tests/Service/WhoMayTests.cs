using System.Text.RegularExpressions;
using Acquire.EndToEnd.Tests.Support;

namespace Acquire.EndToEnd.Tests.Service;

/// <summary>The service as its own process, asked by a client that shares no code with it.</summary>
[Trait("speed", "slow")]
public class WhoMayTests
{
    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_killed_service_leaves_nothing_in_the_way_and_a_browser_gets_in_by_what_is_printed()
    {
        Tools.Require("curl");
        using var darkroom = new Darkroom();
        await using (var killed = darkroom.Start("serve"))
        {
            await UntilItListensAsync(killed);
            await killed.SignalAsync("KILL");
        }

        var socket = Path.Combine(darkroom.Data, "service.sock");
        Assert.True(File.Exists(socket));
        Assert.Equal(2, (await darkroom.RunAsync("serve", "enter")).Code);

        await using var service = darkroom.Start("serve");
        var url = await UntilItListensAsync(service);
        Assert.Equal("alive", await CurlAsync("--unix-socket", socket, "http://localhost/health/live"));
        Assert.Contains(
            "\"status\":401", await CurlAsync("--unix-socket", socket, "http://localhost/api/v1/service"), StringComparison.Ordinal);

        var jar = Path.Combine(darkroom.Folder, "jar");
        foreach (var address in new[] { Printed(service.Out, "Open (.+)"), (await darkroom.DoAsync("serve", "enter")).Trim() })
        {
            Assert.StartsWith(url, address, StringComparison.Ordinal);
            File.Delete(jar);
            Assert.Contains("The service runs", await CurlAsync("-L", "-c", jar, "-b", jar, address), StringComparison.Ordinal);
            Assert.Contains("\"status\":403", await CurlAsync(address), StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task A_token_works_as_soon_as_it_is_made_and_not_after_it_is_revoked()
    {
        Tools.Require("curl");
        using var darkroom = new Darkroom();
        await using var service = darkroom.Start("serve");
        var url = await UntilItListensAsync(service);
        var token = (await darkroom.DoAsync("token", "add", "evening class", "--role", "read")).Trim();
        Assert.Contains("\"version\"", await AskAsync(url, token), StringComparison.Ordinal);
        var changed = await AskAsync(url, token, "-X", "POST", "-H", "Content-Type: application/json");
        Assert.Contains("\"status\":403", changed, StringComparison.Ordinal);
        await darkroom.DoAsync("token", "revoke", "evening class");
        await Task.Delay(TimeSpan.FromSeconds(1), TimeProvider.System, Token);
        Assert.Contains("\"status\":401", await AskAsync(url, token), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Beyond_this_computer_takes_certificate_and_token_and_says_how()
    {
        Tools.Require("curl");
        using var darkroom = new Darkroom();
        var (code, _, error) = await darkroom.RunAsync("serve", "--listen", "0.0.0.0:0");
        Assert.Equal(2, code);
        Assert.Contains("acquire serve cert", error, StringComparison.Ordinal);
        var made = await darkroom.DoAsync("serve", "cert");
        (code, _, error) = await darkroom.RunAsync("serve", "--listen", "0.0.0.0:0");
        Assert.Equal(2, code);
        Assert.Contains("acquire token add", error, StringComparison.Ordinal);

        var token = (await darkroom.DoAsync("token", "add", "evening class", "--role", "read")).Trim();
        await using var service = darkroom.Start("serve", "--listen", "0.0.0.0:0");
        await UntilItListensAsync(service);
        var port = Printed(service.Out, @"Listening on https://0\.0\.0\.0:(\d+)");
        var certificate = Printed(made, "Certificate: (.+)");
        Assert.Contains(
            "\"version\"", await AskAsync($"https://localhost:{port}", token, "--cacert", certificate), StringComparison.Ordinal);
        Assert.Equal("", await CurlAsync($"https://localhost:{port}/health/live"));
    }

    private static Task<string> AskAsync(string url, string token, params string[] more) => CurlAsync(
        [.. more, "-H", $"Authorization: Bearer {token}", url + (more.Contains("POST") ? "/api/v1/sign-ins" : "/api/v1/service")]);

    private static async Task<string> CurlAsync(params string[] arguments)
    {
        await using var curl = RunningProgram.Start("curl", ["--silent", "--max-time", "20", .. arguments]);
        await curl.ExitAsync();
        return curl.Out.Trim();
    }

    private static async Task<string> UntilItListensAsync(RunningProgram service)
    {
        await service.UntilAsync(() => service.Out.Contains("Open ", StringComparison.Ordinal), "an address to open");
        return Printed(service.Out, "Listening on (.+)");
    }

    private static string Printed(string text, string pattern) => Regex.Match(text, pattern).Groups[1].Value.Trim();
}

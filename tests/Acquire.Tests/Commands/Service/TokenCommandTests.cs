using Acquire.Hosting;
using Microsoft.Extensions.Time.Testing;

namespace Acquire.Tests.Commands.Service;

public sealed class TokenCommandTests : IDisposable
{
    private readonly InMemory _acquire =
        new() { BeginsWithStore = false, Time = new FakeTimeProvider(new(2027, 2, 1, 18, 0, 0, TimeSpan.Zero)) };

    public void Dispose() => _acquire.Dispose();

    [Fact]
    public async Task A_token_is_shown_once_and_alone_on_standard_output()
    {
        var (code, output, error) = await _acquire.RunAsync("token", "add", "evening class", "--role", "read", "--days", "7");
        Assert.Equal(ExitCode.Done, code);
        Assert.Matches("^[0-9a-f]{64}\n$", output);
        Assert.Contains("2027-02-08", error, StringComparison.Ordinal);
        Assert.Contains("may read", error, StringComparison.Ordinal);

        var (_, list, _) = await _acquire.RunAsync("token", "list");
        Assert.Contains("evening class", list, StringComparison.Ordinal);
        Assert.DoesNotContain(output.Trim(), list, StringComparison.Ordinal);
        var row = Assert.Single((await _acquire.JsonAsync("token", "list")).EnumerateArray().ToList());
        Assert.Equal(("evening class", "read"), (row.GetProperty("name").GetString(), row.GetProperty("role").GetString()));
        Assert.False(row.TryGetProperty("hash", out _));
    }

    [Fact]
    public async Task A_revoked_token_is_listed_as_such()
    {
        await _acquire.RunAsync("token", "add", "tablet", "--role", "operate");
        var (code, output, _) = await _acquire.RunAsync("token", "revoke", "tablet");
        Assert.Equal(ExitCode.Done, code);
        Assert.Contains("within a second", output, StringComparison.Ordinal);
        var (_, list, _) = await _acquire.RunAsync("token", "list");
        Assert.Contains("revoked", list, StringComparison.Ordinal);
        Assert.Equal(ExitCode.BadInput, (await _acquire.RunAsync("token", "revoke", "tablet")).Code);
    }

    [Theory]
    [InlineData("token", "add", "x")]
    [InlineData("token", "add", "x", "--role", "all")]
    [InlineData("token", "add", "x", "--role", "read", "--days", "0")]
    [InlineData("token", "revoke", "nobody")]
    [InlineData("serve", "enter")]
    [InlineData("serve", "--listen", "192.0.2.20")]
    [InlineData("serve", "--url", "http://0.0.0.0:0")]
    [InlineData("serve", "--listen", "127.0.0.1", "--key", "k.pem")]
    [InlineData("serve", "cert", "--name", "no name")]
    public async Task What_cannot_be_is_refused_as_bad_input(params string[] arguments)
    {
        var (code, output, error) = await _acquire.RunAsync(arguments);
        Assert.Equal((ExitCode.BadInput, ""), (code, output));
        Assert.NotEmpty(error);
    }

    [Fact]
    public async Task A_certificate_is_made_once_with_its_fingerprint()
    {
        var (code, output, error) = await _acquire.RunAsync("serve", "cert", "--name", "bench.example");
        Assert.True(code == ExitCode.Done, error);
        Assert.Matches("SHA-256: +([0-9A-F]{2}:){31}[0-9A-F]{2}", output);
        Assert.Contains("bench.example", output, StringComparison.Ordinal);
        Assert.Contains("2029-02-01", output, StringComparison.Ordinal);
        Assert.Equal(ExitCode.BadInput, (await _acquire.RunAsync("serve", "cert")).Code);
        Assert.Equal(ExitCode.Done, (await _acquire.RunAsync("serve", "cert", "--force")).Code);
    }
}

using System.Text.Json;
using Microsoft.Extensions.Time.Testing;

namespace Acquire.Tests.Commands.Books;

/// <summary>The program in the college darkroom on a Wednesday evening at 20:40, by a clock that the test sets. Invented numbers.</summary>
public abstract class BooksProgram : IDisposable
{
    private readonly InMemory _program = new() { Time = new FakeTimeProvider(Evening) };

    internal static DateTimeOffset Evening { get; } = new(2026, 11, 25, 20, 40, 0, TimeSpan.Zero);

    public void Dispose()
    {
        _program.Dispose();
        GC.SuppressFinalize(this);
    }

    /// <summary>Sets the clock, forwards or back.</summary>
    internal void SetClock(DateTimeOffset to) => _program.Time = new FakeTimeProvider(to);

    internal Task<(int Code, string Out, string Error)> RunAsync(params IEnumerable<string> arguments) => _program.RunAsync(arguments);

    internal async Task<(string Out, string Error)> DoAsync(params IEnumerable<string> arguments)
    {
        var (code, output, error) = await _program.RunAsync(arguments);
        Assert.True(code == 0, error);
        return (output, error);
    }

    internal async Task<string> RefusedAsync(params IEnumerable<string> arguments)
    {
        var before = (await JsonAsync("event", "list", "--all")).GetArrayLength();
        var (code, _, error) = await _program.RunAsync(arguments);
        Assert.Equal(2, code);
        Assert.Equal(before, (await JsonAsync("event", "list", "--all")).GetArrayLength());
        return error;
    }

    internal Task<JsonElement> JsonAsync(params IEnumerable<string> arguments) => _program.JsonAsync(arguments);

    /// <summary>A dip tank, a litre of developer mixed twelve days ago, in bottle D7.</summary>
    internal async Task FillAsync()
    {
        await DoAsync(
            "line", "add", "dip tank", "--process",
            "C-41", "--kind", "dip-tank", "--agitation", "lift every 15 s", "--temperature", "37.8", "--time", "3:15", "--at", "-30d");
        await DoAsync("solution", "mix", "dev12", "1L", "--concentrate", "K77", "--at", "2026-11-13 20:40");
        await DoAsync(
            "bottle", "fill", "D7", "--full", "--container", "glass", "--gas", "argon", "--stored", "18", "--at", "2026-11-13 21:00");
    }

    internal async Task<JsonElement> BottleAsync(params string[] more) =>
        (await JsonAsync(["bottle", "show", "D7", .. more])).GetProperty("state");
}

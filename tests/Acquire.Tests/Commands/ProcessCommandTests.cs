using Acquire.Tests.Support;

namespace Acquire.Tests.Commands;

public sealed class ProcessCommandTests : IDisposable
{
    private readonly InMemory _program = new();

    public void Dispose() => _program.Dispose();

    [Fact]
    public async Task Show_says_where_the_limits_come_from()
    {
        var (code, output, _) = await _program.RunAsync("process", "show", "c41");
        Assert.Equal(0, code);
        Assert.Contains("common practice, from memory", output, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("the sheet packed with the strips rules", output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Show_of_an_unknown_process_lists_those_there_are()
    {
        var (code, _, error) = await _program.RunAsync("process", "show", "x-99");
        Assert.Equal(2, code);
        Assert.Contains("c41", error, StringComparison.Ordinal);
    }
}

namespace Acquire.Tests.Commands;

public sealed class SimulateCommandTests : IDisposable
{
    private readonly InMemory _program = new() { BeginsWithStore = false };

    public void Dispose() => _program.Dispose();

    [Theory]
    [InlineData("Profile 'labelled-line' has no trigger command", "--told")]
    [InlineData("--told and --by-hand cannot both begin a reading", "--told", "--by-hand", "--profile", "told-to-read")]
    [InlineData("the probability of 'deaf' is 2; expected 0 to 1", "--deaf", "2")]
    public async Task Instrument_that_cannot_work_so_is_refused_with_the_reason(string reason, params string[] options)
    {
        var (code, _, error) = await _program.RunAsync(["simulate", .. options]);
        Assert.Equal(2, code);
        Assert.Contains(reason, error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Listening_with_a_trigger_needs_a_profile_that_has_one()
    {
        var (code, _, error) = await _program.RunAsync("listen", "--port", "nowhere", "--profile", "labelled-line", "--trigger");
        Assert.Equal(2, code);
        Assert.Contains("--trigger needs a profile that has a trigger command", error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Test_of_a_profile_shows_what_may_be_sent_and_what_is_answered()
    {
        var (code, output, error) = await _program.RunAsync("profile", "test", "told-to-read");
        Assert.True(code == 0, error);
        Assert.Contains("serial 10427, version 1.2", output, StringComparison.Ordinal);
        Assert.Contains("afterOpening/0: <CR>", output, StringComparison.Ordinal);
        Assert.Contains("trigger: READ<CR>", output, StringComparison.Ordinal);
        Assert.Contains("identify: WHO<CR>", output, StringComparison.Ordinal);
    }
}

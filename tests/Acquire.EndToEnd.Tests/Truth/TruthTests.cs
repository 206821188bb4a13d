using System.Diagnostics;

namespace Acquire.EndToEnd.Tests.Truth;

/// <summary>
/// What the program says with a probability, an interval or a cause in it, held against a world that the analysis does not know: the short
/// form of <c>tools/TruthBenchmark</c>, always with one seed, a group at a time. Aims that are known to be missed hold to what the benchmark
/// says of them; the group that takes times stays out, since a busy machine says nothing of speed.
/// </summary>
[Trait("speed", "slow")]
public class TruthTests
{
    [Theory]
    [InlineData("verdicts")]
    [InlineData("drift")]
    [InlineData("life")]
    [InlineData("causes")]
    [InlineData("plausibility")]
    [InlineData("handful")]
    [InlineData("runlengths")]
    public async Task Claims_hold_in_a_world_that_the_analysis_does_not_know(string group)
    {
        var start = new ProcessStartInfo(Path.Combine(AppContext.BaseDirectory, "TruthBenchmark"))
        {
            ArgumentList = { "--short", "--known", "--groups", group },
            RedirectStandardOutput = true,
        };
        using var benchmark = Process.Start(start)!;
        // Other tests wait for programs that answer at once; this one has time.
        benchmark.PriorityClass = ProcessPriorityClass.BelowNormal;
        var said = await benchmark.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken);
        await benchmark.WaitForExitAsync(TestContext.Current.CancellationToken);

        Assert.True(benchmark.ExitCode == 0, said);
    }
}

using LearningBenchmark;

namespace Acquire.Instruments.Tests.Learning;

/// <summary>A small, fixed part of the benchmark under tools. Formats are invented; their writer is independent of the product's.</summary>
public class LearningBenchmarkTests
{
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Sixty_invented_formats_are_learned_exactly_or_declined(bool pauses)
    {
        var results = Benchmark.Run(60, seed: 7, pauses);

        var learnable = results.Where(r => r.Outcome != Outcome.DeclinedRightly).ToList();
        var exact = learnable.Count(r => r.Outcome == Outcome.Exact);
        Assert.Empty(results.Where(r => r.Outcome == Outcome.Wrong).Select(r => r.Detail));
        Assert.True(learnable.Count >= 45, $"Only {learnable.Count} of 60 formats could be learned; the draw has gone wrong.");
        Assert.True(exact >= 0.95 * learnable.Count, $"Learned {exact} of {learnable.Count}: "
            + $"{string.Join("; ", learnable.Where(r => r.Outcome != Outcome.Exact).Select(r => r.Detail))}");
    }

    [Fact]
    public void Sixty_formats_with_rare_ways_of_writing_are_never_learned_wrongly()
    {
        var results = Benchmark.Run(63, seed: 7, rare: true);

        var learnable = results.Count(r => r.Outcome != Outcome.DeclinedRightly);
        Assert.Empty(results.Where(r => r.Outcome == Outcome.Wrong).Select(r => r.Detail));
        Assert.True(results.Count(r => r.Outcome == Outcome.Exact) >= 0.8 * learnable, "Fewer than four in five were learned exactly.");
    }
}

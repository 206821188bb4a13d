using LearningBenchmark.Formats;

namespace LearningBenchmark;

/// <summary>Runs many trials.</summary>
public static class Benchmark
{
    /// <summary>The results of trials whose formats and values follow from the seed alone.</summary>
    public static List<TrialResult> Run(int count, int seed) =>
        [.. Enumerable.Range(0, count).Select(i =>
        {
            // A sequence for each trial, so that a change in one does not change the others.
            var random = new Random((seed * 100_003) + i);
            return new Trial(FormatDrawer.Draw(random), random).Run();
        })];
}

using LearningBenchmark.Formats;

namespace LearningBenchmark;

/// <summary>Runs many trials.</summary>
public static class Benchmark
{
    private static readonly RareHabit[] Rare = [.. Enum.GetValues<RareHabit>().Where(h => h != RareHabit.None)];

    /// <summary>The results of trials whose formats and values follow from the seed alone.</summary>
    /// <param name="count">How many.</param>
    /// <param name="seed">What all that is drawn follows from.</param>
    /// <param name="pauses">Whether nothing but pauses ends the lines.</param>
    /// <param name="rare">Whether every format has one of the rare ways of writing.</param>
    public static List<TrialResult> Run(int count, int seed, bool pauses = false, bool rare = false) =>
        [.. Enumerable.Range(0, count).Select(i =>
        {
            // A sequence for each trial, so that a change in one does not change the others.
            var random = new Random((seed * 100_003) + i);
            var format = FormatDrawer.Draw(random);
            format = rare ? format.With(Rare[i % Rare.Length], random) : format;
            return new Trial(pauses ? PausedLines.Without(format) : format, random, pauses).Run();
        })];
}

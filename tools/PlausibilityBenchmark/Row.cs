using Acquire.Analysis.Plausibility;
using Acquire.Instruments.Simulation;

namespace PlausibilityBenchmark;

/// <summary>Many strips of one kind.</summary>
internal static class Row
{
    private const int StripsPerLot = 200;

    // Three strips in ten come from a process that is off, as far as twice its action limit: mistakes are made on bad days too.
    private const double ShareOff = 0.3;
    private const double LargestOff = 2;

    /// <summary>Strips with a mistake.</summary>
    public static List<TrialResult> Of(Mistake mistake, double repeatability, int strips, int seed) =>
        Run(strips, seed, repeatability, (bench, random) =>
        {
            var tampering = mistake.Make(random);
            var off = random.NextDouble() < ShareOff;
            var story = FaultStories.All[random.Next(FaultStories.All.Length)];
            var strip = Process.Strip(tampering.Lot(bench), story, off ? Draw.Between(random, 0.3, LargestOff) : 0, bench.Noise, random);
            return Trial.Run(bench, strip, tampering, mistake.AtEnd, random);
        });

    /// <summary>Strips without a mistake from a process with a fault, or none.</summary>
    public static List<TrialResult> Clean(FilmStory? story, double repeatability, int strips, int seed) =>
        Run(strips, seed, repeatability, (bench, random) =>
        {
            var strip = Process.Strip(
                bench.OnAim, story ?? FilmStories.OnAim, story is null ? 0 : Draw.Between(random, 0.5, 3), bench.Noise, random);
            return Trial.Run(bench, strip, new Tampering(), atEnd: false, random);
        });

    /// <summary>Strips without a mistake whose film was ruined.</summary>
    public static List<TrialResult> Ruined(Func<Random, Tampering> make, double repeatability, int strips, int seed) =>
        Run(strips, seed, repeatability, (bench, random) => Trial.Run(
            bench, Process.Strip(bench.OnAim, FilmStories.OnAim, 0, bench.Noise, random), make(random), atEnd: false, random));

    /// <summary>How many percent were asked the right question.</summary>
    public static double Named(this IReadOnlyCollection<TrialResult> results, Mistake mistake) =>
        results.Share(r => r.Asked is { } asked && mistake.RightNames.Contains(asked.Kind));

    /// <summary>How many percent were asked anything.</summary>
    public static double Caught(this IReadOnlyCollection<TrialResult> results) => results.Share(r => r.Asked is not null);

    /// <summary>How many percent are so.</summary>
    public static double Share(this IReadOnlyCollection<TrialResult> results, Func<TrialResult, bool> which) =>
        100.0 * results.Count(which) / results.Count;

    /// <summary>The questions, most frequent first.</summary>
    public static string Kinds(this IEnumerable<TrialResult> results, IEnumerable<SuspicionKind> except) => string.Join(", ", results
        .Where(r => r.Asked is not null && !except.Contains(r.Asked.Kind))
        .GroupBy(r => r.Asked!.Kind)
        .OrderByDescending(g => g.Count())
        .Take(3)
        .Select(g => $"{g.Key} {g.Count()}"));

    // Lots run beside each other; every lot has its own chance, so that the result does not depend on how many run at once.
    private static List<TrialResult> Run(int strips, int seed, double repeatability, Func<Bench, Random, TrialResult> trial) =>
    [
        .. Enumerable.Range(0, (strips + StripsPerLot - 1) / StripsPerLot)
            .AsParallel()
            .AsOrdered()
            .SelectMany(lot =>
            {
                var bench = Bench.Make(repeatability, seed, lot);
                var random = new Random((seed * 1_000_003) + lot);
                return Enumerable.Range(0, Math.Min(StripsPerLot, strips - (lot * StripsPerLot))).Select(_ => trial(bench, random))
                    .ToList();
            }),
    ];
}

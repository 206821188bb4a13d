using Acquire.Analysis.Control;
using Acquire.Analysis.Judgement;
using Acquire.Analysis.Statistics;
using Acquire.Instruments.Simulation;

namespace TruthBenchmark;

/// <summary>
/// HD − LD in three colours: how many strips a slow fall takes to be told, and how often something is told of a process in order. The first
/// twelve strips are in order; the scatter is that of the film stories (run 0.012 × 0.5, common to the colours, and readings).
/// </summary>
internal static class DriftDelays
{
    private const double ActionLimit = 0.07;
    private const int Before = 12;
    private const int After = 60;

    public static void Print(int trials, int seed)
    {
        Table.Title($"Drift of HD − LD, {trials} histories each, seed {seed}: strips until it is told");
        Table.Row("action limits per 30 strips", "told", "median", "90 %", "falsely before");
        foreach (var limits in new[] { 0, 0.5, 1, 2 })
        {
            var delays = new int?[trials];
            var early = new bool[trials];
            Parallel.For(0, trials, i =>
            {
                var findings = Told(seed, i, limits);
                var first = findings.Where(f => f.Noticed >= Start.AddDays(Before)).OrderBy(f => f.Noticed).FirstOrDefault();
                delays[i] = first is null ? null : (int)(first.Noticed - Start).TotalDays - Before + 1;
                early[i] = findings.Any(f => f.Noticed < Start.AddDays(Before));
            });
            var told = delays.OfType<int>().Order().ToList();
            Table.Row(
                limits == 0 ? $"none: told within {After} strips" : FormattableString.Invariant($"{limits:0.0}"),
                told.Count / (double)trials,
                told.Count > 0 ? told[told.Count / 2] : double.NaN,
                told.Count > 0 ? told[Math.Min(told.Count - 1, told.Count * 9 / 10)] : double.NaN,
                early.Count(e => e) / (double)trials);
        }
    }

    private static readonly DateTimeOffset Start = new(2026, 1, 1, 19, 0, 0, TimeSpan.Zero);

    private static ImmutableArray<DriftFinding> Told(int seed, int trial, double limits)
    {
        var noise = new FilmNoise();
        var chance = new SeededChance(seed, trial);
        var (run, reads) = (noise.Run * 0.5, noise.Repeatability * Math.Sqrt(2.0 / 3));
        var points = Enumerable.Range(0, Before + After).Select(i => new StripPoint
        {
            StripId = Guid.Empty,
            At = Start.AddDays(i),
            Lot = "2417",
            Judgement = new StripJudgement([], ImmutableDictionary<Channel, PooledDeviation>.Empty),
        }).ToList();
        var common = points.Select((_, i) => chance.Next(run) - (Math.Max(0, i - Before + 1) * limits * ActionLimit / 30)).ToList();
        var series = Channels.Colours.ToDictionary(
            c => new SeriesKey("contrast", c),
            _ => points.Select((p, i) => new SeriesEntry(p, common[i] + chance.Next(reads), reads)).ToImmutableArray());
        return [.. DriftStudy.Of(series, _ => "HD − LD").Findings.Where(f => !f.IsNotice)];
    }
}

using Acquire.Analysis.Judgement;
using Acquire.Analysis.Uncertainty;
using Acquire.Formats.ProcessSheets;
using Acquire.Instruments.Simulation;

namespace TruthBenchmark;

/// <summary>
/// LD red with its true deviation drawn evenly from −2 to +2 control limits: how often a verdict of "in" or "out" at 95 % is wrong, among
/// all strips and at the worst place, a true deviation on the limit; and how often ±t·u holds the true deviation.
/// </summary>
internal static class VerdictRisks
{
    private const double Control = 0.08;
    private static readonly DateTimeOffset Time = new(2026, 3, 1, 20, 0, 0, TimeSpan.Zero);
    private static readonly ProcessSheet Sheet = ShippedSheets.Get("c41");

    public static void Print(int trials, int seed)
    {
        Table.Title($"Verdict at 95 % and interval of LD red, {trials} strips each, seed {seed}; a repeatability test of 27 degrees of "
            + $"freedom is in force");
        Table.Row("s of a re-placed read, reads", "wrong in", "wrong out", "on limit: in", "on limit: out", "undecided", "±t·u holds");
        foreach (var sigma in new[] { 0.003, 0.006, 0.010, 0.015 })
        {
            foreach (var reads in Enumerable.Range(1, 5))
            {
                Row(sigma, reads, trials, seed);
            }
        }
    }

    private static void Row(double sigma, int reads, int trials, int seed)
    {
        var (wrongIn, wrongOut, open, held, limitIn, limitOut) = (0, 0, 0, 0, 0, 0);
        Parallel.For(0, trials, i =>
        {
            var chance = new SeededChance(seed, i);
            var truth = ((chance.Below(4001) / 1000.0) - 2) * Control;
            var result = Judge(chance, truth, sigma, reads);
            var (verdict, inside) = (result.Verdict!.Verdict, Math.Abs(truth) <= Control);
            var atLimit = Judge(chance, Control + 1e-6, sigma, reads).Verdict!.Verdict;
            Interlocked.Add(ref wrongIn, verdict == Verdict.InControl && !inside ? 1 : 0);
            Interlocked.Add(ref wrongOut, verdict == Verdict.OutOfControl && inside ? 1 : 0);
            Interlocked.Add(ref open, verdict == Verdict.Undecided ? 1 : 0);
            var halfInterval = result.Budget!.CoverageFactor() * result.Budget.StandardUncertainty;
            Interlocked.Add(ref held, Math.Abs(result.Deviation!.Value - truth) <= halfInterval ? 1 : 0);
            Interlocked.Add(ref limitIn, atLimit == Verdict.InControl ? 1 : 0);
            Interlocked.Add(ref limitOut, atLimit == Verdict.OutOfControl ? 1 : 0);
        });
        double n = trials;
        Table.Row(
            FormattableString.Invariant($"{sigma:0.000}, {reads}"),
            wrongIn / n,
            wrongOut / n,
            limitIn / n,
            limitOut / n,
            open / n,
            held / n);
    }

    private static ParameterResult Judge(SeededChance chance, double deviation, double sigma, int reads)
    {
        // The test in force knows the repeatability as well as 27 degrees of freedom let it, from reads that were rounded as all are.
        var squares = Enumerable.Range(0, 27)
            .Sum(i => (0.5 + (i / 2700.0)) is var truth ? Math.Pow((double)Show(truth + chance.Next(sigma)) - truth, 2) : 0);
        var known = new RepeatabilityInForce(
            Guid.CreateVersion7(Time), [.. Channels.Colours.Select(c => new ChannelScatter(c, Math.Sqrt(squares / 27), 27))]);
        ImmutableArray<Aim> aims = [.. Sheet.Layout.Patches.SelectMany(p => Channels.Colours.Select(c => Aim(p.Key, c, chance, sigma)))];
        ImmutableArray<PatchReads> patches =
        [
            .. Sheet.Layout.Patches.Select(p => new PatchReads(p, [.. Enumerable.Range(0, reads).Select(_ => new PatchRead(Reading.Entered(
                ChannelDensities.Rgb(
                    Show(DemoFilm.Aims[p.Key].Red + (p.Key == DemoFilm.Low ? deviation : 0) + chance.Next(sigma)),
                    Show(DemoFilm.Aims[p.Key].Green + chance.Next(sigma)),
                    Show(DemoFilm.Aims[p.Key].Blue + chance.Next(sigma))),
                Time)))])),
        ];
        var record = new StripRecord(
            Guid.CreateVersion7(Time), "2417", Sheet.Layout,
            Sheet, patches, PatchMeans.Of(patches), aims, new Provenance(Time, "staff", null), Revision.First("staff", Time, "read"))
        {
            Repeatability = known,
        };
        return StripJudge.Judge(record).Results.First(r => r.Parameter.Key == "ld" && r.Channel == Channel.Red);
    }

    /// <summary>The aim as nine reads of the reference made it.</summary>
    private static Aim Aim(string patch, Channel channel, SeededChance chance, double sigma)
    {
        var u = sigma / 3;
        return new Aim(patch, channel, DemoFilm.Aims[patch][channel] + chance.Next(u), 0, u);
    }

    private static decimal Show(double density) => decimal.Round((decimal)density, 2, MidpointRounding.AwayFromZero);
}

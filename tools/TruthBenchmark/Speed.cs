using System.Diagnostics;
using Acquire.Analysis.Control;
using Acquire.Analysis.Life;
using Acquire.Instruments.Simulation;

namespace TruthBenchmark;

/// <summary>
/// The cost of a history on one core, as a ratio to a plain pass over the same numbers in the same run: it must be linear in the strips,
/// and one strip more must not cost more in a long history than in a short one.
/// </summary>
internal static class Speed
{
    private const int Series = 13;

    public static void Print(int seed)
    {
        Table.Title("Cost, one core: every strip through the detectors of 13 series, against a plain sum over the same numbers");
        Table.Row("strips", "µs a strip", "× plain sum");
        var values = Values(100_000, seed);
        foreach (var count in new[] { 1_000, 10_000, 100_000 })
        {
            var plain = Best(() => Enumerable.Range(0, Series).Sum(_ => values.Take(count).Sum(v => v * v)));
            var detectors = Best(() => Enumerable.Range(0, Series).Sum(_ => Run(values, count)));
            Table.Row(FormattableString.Invariant($"{count}"), detectors * 1e6 / count, detectors / plain);
        }

        Through(seed);
        Table.Title("One strip more, detectors of one series");
        Table.Row("after strips", "µs", "× after 100");
        double? first = null;
        foreach (var count in new[] { 100, 10_000, 100_000 })
        {
            var state = After(values, count);
            var cost = Best(() => Enumerable.Range(0, 1000).Sum(i => state.Take(values[i], "2417").Alarm is null ? 0 : 1)) / 1000;
            Table.Row(FormattableString.Invariant($"{count}"), cost * 1e6, cost / (first ??= cost));
        }
    }

    /// <summary>Strips judged with verdicts, then through the detectors of every series and the model of a life.</summary>
    private static void Through(int seed)
    {
        Table.Title("Everything, one core: judging with verdicts, drift, life");
        Table.Row("strips", "µs a strip", "× first row");
        double? first = null;
        foreach (var count in new[] { 1_000, 10_000, 100_000 })
        {
            var watch = Stopwatch.StartNew();
            var points = WholeStrips.Points(count, seed);
            GC.KeepAlive(DriftStudy.Of(HistorySeries.Of(points), key => key));
            GC.KeepAlive(LifeStudy.Of(points, WholeStrips.Sheet));
            var cost = watch.Elapsed.TotalSeconds / count;
            Table.Row(FormattableString.Invariant($"{count}"), cost * 1e6, cost / (first ??= cost));
        }
    }

    private static double[] Values(int count, int seed)
    {
        var chance = new SeededChance(seed, 0);
        return [.. Enumerable.Range(0, count).Select(_ => chance.Next(0.01))];
    }

    private static int Run(double[] values, int count)
    {
        var (state, alarms) = (DriftState.Begin(0.004), 0);
        for (var i = 0; i < count; i++)
        {
            (state, var alarm) = state.Take(values[i], "2417");
            alarms += alarm is null ? 0 : 1;
        }

        return alarms;
    }

    private static DriftState After(double[] values, int count)
    {
        var state = DriftState.Begin(0.004);
        for (var i = 0; i < count; i++)
        {
            state = state.Take(values[i], "2417").Next;
        }

        return state;
    }

    private static double Best<T>(Func<T> work)
    {
        _ = work();
        return Enumerable.Range(0, 3).Min(_ =>
        {
            var watch = Stopwatch.StartNew();
            GC.KeepAlive(work());
            return watch.Elapsed.TotalSeconds;
        });
    }
}

namespace Acquire.Analysis.Control;

/// <summary>
/// Alarms of one series that belong together: one that the next confirmed, or a drift that rang several times on its way.
/// </summary>
internal sealed record Movement(
    SeriesKey Key,
    Side Side,
    DriftShape Shape,
    int Began,
    int Earliest,
    int Latest,
    int Noticed,
    int Until,
    double Step,
    DetectorKind Detector,
    bool IsLatest)
{
    /// <summary>Runs the detectors over a series and takes together what belongs together.</summary>
    public static ImmutableArray<Movement> Of(SeriesKey key, ImmutableArray<SeriesEntry> entries)
    {
        var chains = new List<List<DriftAlarm>>();
        var state = DriftState.Begin(LeastSigma(entries));
        foreach (var entry in entries)
        {
            (state, var alarm) = state.Take(entry.Deviation, entry.Strip.Lot);
            if (alarm is not null)
            {
                Add(chains, alarm);
            }
        }

        var last = chains.FindLastIndex(c => !c[0].IsNotice);
        return [.. chains.Select((c, i) => Of(key, c, entries, i == last || (c[0].IsNotice && c[^1].At == entries.Length - 1))).Where(
            m => Keep(m, entries.Length))];
    }

    /// <summary>A notice is worth a word while it is news; afterwards either an alarm confirmed it or it was nothing.</summary>
    private static bool Keep(Movement movement, int strips) => movement.Shape != DriftShape.Notice || movement.Noticed == strips - 1;

    private static double LeastSigma(ImmutableArray<SeriesEntry> entries) =>
        entries.IsEmpty ? 0 : Math.Sqrt(entries.Average(e => e.ReadingUncertainty * e.ReadingUncertainty));

    private static void Add(List<List<DriftAlarm>> chains, DriftAlarm alarm)
    {
        var open = chains.FindLast(c => !c[0].IsNotice);

        // The same way with hardly a pause: still the same movement.
        if (!alarm.IsNotice && open is not null && open[^1].Side == alarm.Side && alarm.Earliest <= open[^1].At + DriftState.Pause)
        {
            open.Add(alarm);
        }
        else
        {
            chains.Add([alarm]);
        }
    }

    private static Movement Of(SeriesKey key, List<DriftAlarm> chain, ImmutableArray<SeriesEntry> entries, bool isLatest)
    {
        var (first, last) = (chain[0], chain[^1]);
        var start = chain.MinBy(a => a.Began)!;
        var shape = first.IsNotice ? DriftShape.Notice
            : chain.All(a => a.P is null) ? DriftShape.SingleStrip
            : chain.Where(a => a.P is not null).Select(a => a.Began).Distinct().Count() > 1
                || IsRamp(chain.First(a => a.P is not null), entries) ? DriftShape.Gradual
            : DriftShape.Jump;
        return new Movement(
            key, first.Side,
            shape, start.Began, start.Earliest, start.Latest, first.At, last.At, last.After - first.Before, last.Detector, isLatest);
    }

    /// <summary>Whether the values since the beginning follow a slope better than a step: they keep moving the same way.</summary>
    private static bool IsRamp(DriftAlarm alarm, ImmutableArray<SeriesEntry> entries)
    {
        var from = Math.Max(0, alarm.Began - 3);
        var line =
            Statistics.StraightLine.Of([.. Enumerable.Range(from, alarm.At - from + 1).Select(i => ((double)i, entries[i].Deviation))]);
        var (step, flat) = (0.0, 0.0);
        for (var i = from; i <= alarm.At; i++)
        {
            var off = entries[i].Deviation - (i < alarm.Began ? alarm.Before : alarm.After);
            step += off * off;
            var left = line is null ? double.PositiveInfinity : entries[i].Deviation - line.At(i);
            flat += left * left;
        }

        return flat < step;
    }
}

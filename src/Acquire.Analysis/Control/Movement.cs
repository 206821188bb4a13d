namespace Acquire.Analysis.Control;

/// <summary>Alarms of one series that belong together: one that the next
/// confirmed, or a drift that rang several times on its way.</summary>
internal sealed record Movement(
    SeriesKey Key, Side Side, DriftShape Shape, int Began, int Earliest, int Latest, int Noticed, int Until, double Step,
    DetectorKind Detector, bool IsLatest)
{
    /// <summary>Alarms this close, in strips, and to the same side are one movement that goes on.</summary>
    private const int Pause = 12;

    /// <summary>How many strips after the last alarm still tell of its course.</summary>
    private const int StillTell = 20;

    /// <summary>A shape is said where it is so probable; otherwise it stays open. "Little by little" is said more sparingly, as it sends
    /// the user after what wears and ages. Judgement, no source.</summary>
    private const double ClearlyAtOnce = 0.80;

    private const double ClearlyGradual = 0.95;

    /// <summary>Takes the alarms of a series together that belong together.</summary>
    public static ImmutableArray<Movement> Of(SeriesKey key, SeriesWatch watch)
    {
        var chains = new List<List<DriftAlarm>>();
        foreach (var alarm in watch.Alarms)
        {
            Add(chains, alarm);
        }

        var told = chains.Where(c => c[0].Weight != DriftWeight.Notice).ToList();
        var notice = chains.FindLast(c => c[0].Weight == DriftWeight.Notice && c[0].At == watch.Newest);
        return
        [
            // A notice is worth a word while it is news; afterwards either an alarm confirmed it or it was nothing.
            .. told.Select((c, i) => Of(key, c, i + 1 < told.Count ? told[i + 1] : null, watch)),
            .. notice is null ? (Movement[])[] : [Of(key, notice, null, watch)],
        ];
    }

    /// <summary>A series cut into its stretches of one level: at every lot and every movement.</summary>
    public static IReadOnlyList<double[]> Levels(ImmutableArray<SeriesEntry> entries, ImmutableArray<Movement> movements)
    {
        var cuts = movements.Where(m => m.Shape is not (DriftShape.Notice or DriftShape.SingleStrip)).Select(m => m.Began).ToHashSet();
        // What goes little by little is no level, and would look like resemblance.
        var moving = movements.Where(m => m.Shape is DriftShape.Gradual or DriftShape.Open).Select(m => (m.Earliest, m.Until)).ToList();
        var stretches = new List<List<double>>();
        foreach (var (i, entry) in entries.Index())
        {
            if (i == 0 || cuts.Contains(i) || !Keys.Same(entries[i - 1].Strip.Lot, entry.Strip.Lot))
            {
                stretches.Add([]);
            }

            if (!moving.Exists(m => i >= m.Earliest && i <= m.Until))
            {
                stretches[^1].Add(entry.Deviation);
            }
        }

        return [.. stretches.Select(s => s.ToArray())];
    }

    private static void Add(List<List<DriftAlarm>> chains, DriftAlarm alarm)
    {
        var open = chains.FindLast(c => c[0].Weight != DriftWeight.Notice);

        // The same way with hardly a pause: still the same movement.
        if (alarm.Weight != DriftWeight.Notice && open is not null && open[^1].Side == alarm.Side
            && alarm.Earliest <= open[^1].At + Pause)
        {
            open.Add(alarm);
        }
        else
        {
            chains.Add([alarm]);
        }
    }

    private static Movement Of(SeriesKey key, List<DriftAlarm> chain, List<DriftAlarm>? next, SeriesWatch watch)
    {
        var (first, last) = (chain[0], chain[^1]);
        if (chain.Find(a => a.Weight == DriftWeight.Movement) is not { } moved)
        {
            return new Movement(
                key, first.Side, first.Weight == DriftWeight.Notice ? DriftShape.Notice : DriftShape.SingleStrip,
                first.Began, first.Earliest, first.Latest, first.At, last.At, last.After - first.Before, last.Detector, next is null);
        }

        var (from, place) = Date(moved, chain, next, watch);
        var shape = place.AtOnce > ClearlyAtOnce ? DriftShape.Jump
            : 1 - place.AtOnce > ClearlyGradual ? DriftShape.Gradual
            : DriftShape.Open;
        return new Movement(
            key, place.Step > 0 ? Side.High : Side.Low, shape, from + place.Began, from + place.Earliest, from + place.Latest,
            first.At, last.At, place.Step, moved.Detector, next is null);
    }

    /// <summary>Looks for its beginning with all that is known by now, as strips after it was noticed tell more of its course.</summary>
    private static (int From, MovementPlace Place) Date(
        DriftAlarm moved, List<DriftAlarm> chain, List<DriftAlarm>? next, SeriesWatch watch)
    {
        var entries = watch.Entries;
        var lot = entries[moved.At].Strip.Lot;
        var before = watch.Alarms.FindLast(a => a.Weight == DriftWeight.Movement && a.At < moved.At)?.Began ?? 0;
        var from = Math.Max(before, moved.At - CloserLook.Window + 1);
        for (var i = moved.At; i > from; i--)
        {
            from = Keys.Same(entries[i - 1].Strip.Lot, lot) ? from : i;
        }

        var end = Math.Min(
            Math.Min(chain[^1].At + StillTell, from + (2 * CloserLook.Window) - 1),
            next is null ? entries.Length - 1 : Math.Max(moved.At, next[0].Began - 1));
        for (var i = moved.At; i < end; i++)
        {
            end = Keys.Same(entries[i + 1].Strip.Lot, lot) ? end : i;
        }

        double[] values = [.. entries.Skip(from).Take(end - from + 1).Select(e => e.Deviation)];
        return (from, CloserLook.Of([], values, watch.LeastSigma).Place(moved.Memory));
    }
}

namespace Acquire.Analysis.Control;

/// <summary>What moved in a history of strips.</summary>
/// <param name="Findings">The movements, oldest first.</param>
/// <param name="Notes">What makes them less sure than they look.</param>
public sealed record DriftStudy(ImmutableArray<DriftFinding> Findings, ImmutableArray<string> Notes)
{
    /// <summary>Fewer values tell nothing of how they resemble each other.</summary>
    private const int FewForAutocorrelation = 10;

    /// <summary>Looks for movements in every series.</summary>
    /// <param name="series">The deviations of each parameter and channel, oldest first.</param>
    /// <param name="nameOf">The trade's name of a parameter key.</param>
    public static DriftStudy Of(IReadOnlyDictionary<SeriesKey, ImmutableArray<SeriesEntry>> series, Func<string, string> nameOf)
    {
        var movements = series.ToDictionary(s => s.Key, s => Movement.Of(s.Key, s.Value));
        var findings = series.GroupBy(s => s.Key.ParameterKey).SelectMany(g => Parameter(g.Key, g, movements, nameOf));
        return new DriftStudy(
            [.. findings.OrderBy(f => f.Began).ThenBy(f => f.ParameterKey, StringComparer.Ordinal)],
            [.. series.Select(s => Resemblance(s.Key, s.Value, movements[s.Key], nameOf)).OfType<string>()]);
    }

    private static IEnumerable<DriftFinding> Parameter(
        string key, IEnumerable<KeyValuePair<SeriesKey, ImmutableArray<SeriesEntry>>> channels,
        Dictionary<SeriesKey, ImmutableArray<Movement>> movements, Func<string, string> nameOf)
    {
        var by = channels.ToDictionary(c => c.Key, c => c.Value);
        var left = by.Keys.OrderBy(k => k.Channel).SelectMany(k => movements[k]).ToList();
        while (left is [var first, ..])
        {
            var together = left.Where(m => m == first || GoTogether(first, m, by)).DistinctBy(m => m.Key).ToList();
            left.RemoveAll(together.Contains);
            yield return Finding(key, together, by, nameOf);
        }
    }

    /// <summary>Two channels move as one when they go the same way in the same
    /// shape, and began at what may have been the same strip.</summary>
    private static bool GoTogether(Movement a, Movement b, Dictionary<SeriesKey, ImmutableArray<SeriesEntry>> by)
    {
        var (first, second) = (by[a.Key], by[b.Key]);
        return a.Key != b.Key && a.Side == b.Side && (a.Shape == DriftShape.Notice) == (b.Shape == DriftShape.Notice)
            && first[a.Earliest].Strip.At <= second[Math.Max(b.Latest, b.Until)].Strip.At
            && second[b.Earliest].Strip.At <= first[Math.Max(a.Latest, a.Until)].Strip.At;
    }

    private static DriftFinding Finding(
        string key, List<Movement> together, Dictionary<SeriesKey, ImmutableArray<SeriesEntry>> by, Func<string, string> nameOf)
    {
        // The channel that moved most tells best when it began.
        var clearest = together.MaxBy(m => Math.Abs(m.Step))!;
        var entries = by[clearest.Key];
        var shape = together.GroupBy(m => m.Shape).MaxBy(g => g.Count())!.Key;
        var channels = together.Select(m => m.Key.Channel).OfType<Channel>().Order().ToImmutableArray();
        var finding = new DriftFinding
        {
            ParameterKey = key,
            Channels = channels,
            Side = clearest.Side,
            Shape = shape,
            BeganAtStrip = entries[clearest.Began].Strip.StripId,
            Began = entries[clearest.Began].Strip.At,
            Earliest = entries[clearest.Earliest].Strip.At,
            Latest = entries[clearest.Latest].Strip.At,
            Noticed = together.Min(m => by[m.Key][m.Noticed].Strip.At),
            Step = together.Average(m => m.Step),
            Detectors = [.. together.Select(m => m.Detector).Distinct()],
            IsLatest = together.Any(m => m.IsLatest),
            Sentence = "",
        };
        return finding with { Sentence = Sentence(finding, nameOf(key)) };
    }

    private static string Sentence(DriftFinding finding, string name)
    {
        var what = finding.Channels switch
        {
            [] => name,
            { Length: 3 } => $"{name} in all three colours",
            var channels => $"{name} {string.Join(" and ", channels.Select(c => c.Word()))}",
        };
        var (day, way) = (Numbers.Day(finding.Began), finding.Side == Side.High ? "up" : "down");
        var size = Math.Abs(finding.Step).ToString("0.00", CultureInfo.InvariantCulture);
        var about = finding.Earliest.Date == finding.Latest.Date
            ? ""
            : $" (between {Numbers.Day(finding.Earliest)} and {Numbers.Day(finding.Latest)})";
        return finding.Shape switch
        {
            DriftShape.Jump => $"{what} went {way} by about {size} at once on {day}{about}.",
            DriftShape.Gradual => $"{what} has been going {way} little by little since {day}{about}, by about {size} so far.",
            DriftShape.SingleStrip => $"{what} was {way} by about {size} on a single strip, {day}.",
            _ when finding.Detectors.Contains(DetectorKind.ThreeMoves) =>
                $"{what} has moved {way} three times running since {day}, away from its aim; chance does that now and then, so watch "
                + "the next strip.",
            _ => $"{what} looks {way} by about {size} on the latest strip; that may be chance, so watch the next one.",
        };
    }

    /// <summary>Whether strips since the last movement resemble each other more than chance has it.</summary>
    private static string? Resemblance(
        SeriesKey key, ImmutableArray<SeriesEntry> entries, ImmutableArray<Movement> movements, Func<string, string> nameOf)
    {
        var from = movements.Where(m => m.Shape is DriftShape.Jump or DriftShape.Gradual).Select(m => m.Began).DefaultIfEmpty(0).Max();
        double[] values = [.. entries[from..].Select(e => e.Deviation)];
        return values.Length >= FewForAutocorrelation && Autocorrelation.Lag1(values) is { } r && r > 0
            && Autocorrelation.IsMoreThanChance(r, values.Length)
            ? string.Create(
                CultureInfo.InvariantCulture,
                $"{nameOf(key.ParameterKey)}{(key.Channel is { } c ? " " + c.Word() : "")}: each strip resembles the one before "
                + $"(autocorrelation {r:0.00} over {values.Length} strips), so rules about runs ring more readily than their tables say.")
            : null;
    }
}

/// <summary>Alarms of one series that belong together: one that the next
/// confirmed, or a drift that rang several times on its way.</summary>
internal sealed record Movement(
    SeriesKey Key, Side Side, DriftShape Shape, int Began, int Earliest, int Latest, int Noticed, int Until, double Step,
    DetectorKind Detector, bool IsLatest)
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
            key, first.Side, shape, start.Began, start.Earliest, start.Latest, first.At, last.At, last.After - first.Before,
            last.Detector, isLatest);
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

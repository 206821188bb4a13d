namespace Acquire.Analysis.Control;

/// <summary>What moved in a history of strips.</summary>
/// <param name="Findings">The movements, oldest first.</param>
/// <param name="Notes">What makes them less sure than they look.</param>
public sealed record DriftStudy(ImmutableArray<DriftFinding> Findings, ImmutableArray<string> Notes)
{
    private const string Allowed = "Each strip resembles the one before; that is allowed for.";

    /// <summary>Looks for movements in all series of a process together: in sixty strips in which nothing happens, one
    /// process in twenty at most tells of a movement.</summary>
    /// <param name="series">The deviations of each parameter and channel, oldest first.</param>
    /// <param name="nameOf">The trade's name of a parameter key.</param>
    public static DriftStudy Of(IReadOnlyDictionary<SeriesKey, ImmutableArray<SeriesEntry>> series, Func<string, string> nameOf)
    {
        var watches = series.Where(s => !s.Value.IsEmpty).ToDictionary(s => s.Key, s => new SeriesWatch(s.Value));
        ProcessWatch.Run(watches.Values);
        var movements = watches.ToDictionary(s => s.Key, s => Movement.Of(s.Key, s.Value));
        var resemblance = Resemblance.Of(
            watches.Select(w => Movement.Levels(w.Value.Entries, movements[w.Key])), Resemblance.Independent([.. watches.Values]));
        var allowed = resemblance is { IsClear: true };
        var findings = watches.GroupBy(s => s.Key.ParameterKey)
            .SelectMany(g => Parameter(g.Key, g.Select(s => KeyValuePair.Create(s.Key, s.Value.Entries)), movements, nameOf))
            .Select(f => allowed && !f.IsNotice ? f with { Sentence = f.Sentence + " " + Allowed } : f);
        return new DriftStudy(
            [.. findings.OrderBy(f => f.Began).ThenBy(f => f.ParameterKey, StringComparer.Ordinal)],
            allowed ? [Note(resemblance!)] : []);
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
            DriftShape.Open =>
                $"{what} has moved {way} by about {size}, beginning on {day}{about}; at once or little by little, these "
                + "strips do not tell.",
            DriftShape.SingleStrip => $"{what} was {way} by about {size} on a single strip, {day}.",
            _ when finding.Detectors.Contains(DetectorKind.ThreeMoves) =>
                $"{what}: three moves {way} in a row since {day}, away from its aim. That is no movement yet, chance does it often; "
                + "watch the next strip.",
            _ when finding.Began == finding.Noticed =>
                $"{what} is {way} by about {size} on the latest strip. One strip is no movement, chance does it now and then; "
                + "watch the next.",
            _ => $"{what} may be {way} by about {size} lately. It is not clear enough to call it a movement; watch the next strip.",
        };
    }

    private static string Note(Resemblance found) =>
        FormattableString.Invariant($"Each strip resembles the one before (autocorrelation {found.Lag1:0.00} over ")
        + $"{Numbers.Count(found.Strips, "strip")}, all parameters together). This is allowed for, so movements are told later; "
        + "rules about runs ring more readily than their tables say.";
}

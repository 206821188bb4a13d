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
        ArgumentNullException.ThrowIfNull(series);
        ArgumentNullException.ThrowIfNull(nameOf);
        var movements = series.ToDictionary(s => s.Key, s => Movement.Of(s.Key, s.Value));
        var findings = series.GroupBy(s => s.Key.ParameterKey).SelectMany(g => Parameter(g.Key, g, movements, nameOf));
        return new DriftStudy(
            [.. findings.OrderBy(f => f.Began).ThenBy(f => f.ParameterKey, StringComparer.Ordinal)],
            [.. series.Select(s => Resemblance(s.Key, s.Value, movements[s.Key], nameOf)).OfType<string>()]);
    }

    private static IEnumerable<DriftFinding> Parameter(
        string key,
        IEnumerable<KeyValuePair<SeriesKey, ImmutableArray<SeriesEntry>>> channels,
        Dictionary<SeriesKey, ImmutableArray<Movement>> movements,
        Func<string, string> nameOf)
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

    /// <summary>
    /// Two channels move as one when they go the same way in the same shape, and began at what may have been the same strip.
    /// </summary>
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
        var about = finding.Earliest.Date == finding.Latest.Date ? "" : $" (between {Numbers.Day(finding.Earliest)} and {Numbers.Day(finding.Latest)})";
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

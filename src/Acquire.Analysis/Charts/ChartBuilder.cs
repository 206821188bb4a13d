using Acquire.Analysis.Control;
using Acquire.Analysis.Gauge;
using Acquire.Analysis.Judgement;

namespace Acquire.Analysis.Charts;

/// <summary>Puts a chart together.</summary>
internal sealed class ChartBuilder
{
    private readonly ChartRequest _request;
    private readonly List<StripPoint> _placed;
    private readonly ChartRange _range;

    public ChartBuilder(ChartRequest request)
    {
        _request = request;
        _placed = [.. request.Strips
            .Where(s => request.Axis.Of(s) is not null)
            .OrderBy(PlaceOf).ThenBy(s => s.At).ThenBy(s => s.StripId)];
        _range = RangeOf();
    }

    public ChartModel Build()
    {
        var sheet = _request.Sheet;
        var parameters = _request.Parameters.IsEmpty ? sheet.Parameters : [.. _request.Parameters.Select(sheet.Get).Distinct()];
        var runs = JoinedRuns.Of(_placed, _request.Axis);
        var panels = new PanelBuilder(_request, _placed, runs, _range);
        var stacked = PanelOrder.Of(parameters).Select(panels.Build).ToImmutableArray();
        return new ChartModel
        {
            Title = $"{sheet.Name}: deviation from aim against {Against()}",
            Axis = _request.Axis,
            Range = _range,
            Panels = Numbered(stacked),
            // Lots and events belong to days; on an axis of age, strips of many days stand beside each other.
            Lots = _request.Axis == ChartAxis.Date ? Bands() : [],
            Events = Events(),
            Strips = _placed.Count,
            WithoutPlace = _request.Strips.Count - _placed.Count,
            Notes = [.. Notes(stacked)],
        };
    }

    private double PlaceOf(StripPoint strip) => _request.Axis.Of(strip)!.Value;

    private string Against() => _request.Axis switch
    {
        ChartAxis.Date => "date",
        ChartAxis.AgeOfMix => "age of mix",
        ChartAxis.DaysOpen => "time since opening",
        _ => "film area processed",
    };

    /// <summary>Dates get room at both ends, a day at least; ages and areas begin at 0.</summary>
    private ChartRange RangeOf()
    {
        var places = _placed.Select(PlaceOf).ToList();
        return _request.Axis switch
        {
            ChartAxis.Date => ChartRange.About(places, 1, 0.03),
            ChartAxis.AreaPerLitre => ChartRange.About(places.Append(0), 0.01, 0.03),
            _ => ChartRange.About(places.Append(0), 1, 0.03),
        };
    }

    private ImmutableArray<LotBand> Bands() =>
        [.. Stretches.Of(_placed, PlaceOf, s => s.Lot, _range, StringComparer.OrdinalIgnoreCase)
            .Select(b => new LotBand(b.From, b.To, b.Kind))];

    private ImmutableArray<EventMark> Events() => _request.Axis != ChartAxis.Date
        ? []
        : [.. _request.Events.Where(e => _range.Holds(ChartAxes.DayOf(e.At))).OrderBy(e => e.At).Select(
            (e, i) => new EventMark(ChartAxes.DayOf(e.At), i + 1, e))];

    /// <summary>Numbers what moved over the whole chart, from the top panel down.</summary>
    private static ImmutableArray<ChartPanel> Numbered(ImmutableArray<ChartPanel> panels)
    {
        var number = 0;
        return [.. panels.Select(p => p with { Findings = [.. p.Findings.Select(f => f with { Number = ++number })] })];
    }

    private IEnumerable<string> Notes(ImmutableArray<ChartPanel> panels)
    {
        var points = panels.SelectMany(p => p.Lines).SelectMany(l => l.Points).Where(p => p.RestsOnAssumption != Assumed.None).ToList();
        if (AssumptionLine.Of(points.Aggregate(Assumed.None, (all, p) => all | p.RestsOnAssumption)) is { } assumed)
        {
            var strips = points.Select(p => p.StripId).Distinct().Count();
            yield return $"The 95 % interval of {Numbers.Count(strips, "strip")}: {assumed}";
        }

        var without = _request.Strips.Count - _placed.Count;
        if (without > 0)
        {
            var which = without == 1 ? "1 strip is" : string.Create(CultureInfo.InvariantCulture, $"{without} strips are");
            var what = _request.Axis switch
            {
                ChartAxis.AreaPerLitre => "area their solution had processed",
                ChartAxis.DaysOpen => "day their bottle was opened",
                _ => "age of their mix",
            };
            yield return $"{which} not on the chart: the books do not tell the {what}.";
        }

        foreach (var panel in panels)
        {
            foreach (var why in panel.Lines.SelectMany(l => l.Missing).DistinctBy(m => (m.StripId, m.Why)).GroupBy(m => m.Why))
            {
                var strips = why.DistinctBy(m => m.StripId).Count();
                yield return string.Create(
                    CultureInfo.InvariantCulture,
                    $"{panel.Parameter.Name} is not known of {strips} {(strips == 1 ? "strip" : "strips")}: {why.Key}");
            }

            var bare = panel.Parameter.Lines.Where(l => panel.Parameter.LimitsIn(l).AreEmpty).ToList();
            if (bare.Count > 0)
            {
                var where =
                    panel.Parameter.HasLimits ? $" in {string.Join(", ", bare.OfType<Channel>().Order().Select(c => c.Word()))}" : "";
                yield return $"{panel.Parameter.Name} has no limits{where}; fill them in from the sheet in the box.";
            }
        }

        if (_request.Axis != ChartAxis.Date && _placed.Select(s => LimitsOf(s, panels)).Distinct().Count() > 1)
        {
            yield return "Some strips were judged by other limits than those drawn; their zones are by their own.";
        }

        if (panels.SelectMany(p => p.Lines).Any(l => l.Natural is not null))
        {
            yield return "Natural limits are centre ± 3 sigma of the newest lot's strips, sigma from the mean moving range.";
        }
    }

    private static string LimitsOf(StripPoint strip, ImmutableArray<ChartPanel> panels) => string.Join(
        ';',
        from panel in panels
        from line in panel.Parameter.Lines
        select strip.Judgement.Results.Any(r => Keys.Same(r.Parameter.Key, panel.Parameter.Key))
            && PanelBuilder.LimitsOf(strip, panel.Parameter, line) is { } limits
            ? $"{limits.Action}/{limits.Control}"
            : "none");
}

/// <summary>Which strips a line joins.</summary>
internal static class JoinedRuns
{
    /// <summary>A pause this many times the usual one breaks the line: nothing is known of
    /// the process meanwhile (common practice, no source).</summary>
    private const double LongPause = 10;

    /// <summary>No pause shorter than this, in days, breaks the line.</summary>
    private const double ShortPause = 14;

    /// <summary>The number of the run that each strip belongs to.</summary>
    /// <param name="sorted">Strips by their place.</param>
    public static int[] Of(IReadOnlyList<StripPoint> sorted, ChartAxis axis) => axis == ChartAxis.Date ? ByTime(sorted) : ByBottle(sorted);

    /// <summary>By date: points after a crossover are held against other aims, so that no line leads across it.</summary>
    private static int[] ByTime(IReadOnlyList<StripPoint> sorted)
    {
        var pauses = sorted.Zip(sorted.Skip(1), (a, b) => (b.At - a.At).TotalDays).Order().ToList();
        var longest = pauses.Count == 0 ? 0 : Math.Max(ShortPause, LongPause * pauses[(pauses.Count - 1) / 2]);
        var runs = new int[sorted.Count];
        for (var i = 1; i < runs.Length; i++)
        {
            var breaks = (sorted[i].At - sorted[i - 1].At).TotalDays > longest || !Keys.Same(sorted[i].Lot, sorted[i - 1].Lot);
            runs[i] = runs[i - 1] + (breaks ? 1 : 0);
        }

        return runs;
    }

    /// <summary>By age, opening or area: each mix in each bottle ages by itself.</summary>
    private static int[] ByBottle(IReadOnlyList<StripPoint> sorted)
    {
        var known = new Dictionary<(string? Solution, string? Bottle, string Lot), int>();
        return [.. sorted.Select(s =>
        {
            var key = (Upper(s.Solution), Upper(s.Bottle), s.Lot.ToUpperInvariant());
            return known.TryGetValue(key, out var run) ? run : known[key] = known.Count;
        })];
    }

    private static string? Upper(string? word) => word?.ToUpperInvariant();
}

/// <summary>Cuts an axis into stretches over which something stays the same.</summary>
internal static class Stretches
{
    /// <summary>Stretches that cover the whole range without overlap; each ends half-way between
    /// the last strip of one kind and the first of the next.</summary>
    /// <param name="sorted">What is cut, by its place.</param>
    /// <param name="kindOf">What stays the same.</param>
    /// <param name="range">The whole axis.</param>
    /// <param name="same">Tells kinds apart.</param>
    public static ImmutableArray<(double From, double To, TKind Kind)> Of<T, TKind>(
        IReadOnlyList<T> sorted, Func<T, double> placeOf, Func<T, TKind> kindOf, ChartRange range, IEqualityComparer<TKind> same)
    {
        var stretches = ImmutableArray.CreateBuilder<(double, double, TKind)>();
        var from = range.Low;
        for (var i = 0; i < sorted.Count; i++)
        {
            var kind = kindOf(sorted[i]);
            if (i == sorted.Count - 1)
            {
                stretches.Add((from, range.High, kind));
            }
            else if (!same.Equals(kind, kindOf(sorted[i + 1])))
            {
                var to = (placeOf(sorted[i]) + placeOf(sorted[i + 1])) / 2;
                stretches.Add((from, to, kind));
                from = to;
            }
        }

        return stretches.ToImmutable();
    }
}

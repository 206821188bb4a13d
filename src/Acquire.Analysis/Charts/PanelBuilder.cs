using Acquire.Analysis.Control;
using Acquire.Analysis.Judgement;

namespace Acquire.Analysis.Charts;

/// <summary>Puts the panel of one parameter together.</summary>
/// <param name="request">What is to be charted.</param>
/// <param name="placed">The strips with a place, by it.</param>
/// <param name="runs">The run that each belongs to.</param>
/// <param name="range">The axis.</param>
internal sealed class PanelBuilder(ChartRequest request, List<StripPoint> placed, int[] runs, ChartRange range)
{
    /// <summary>No panel shows less than this, in density: otherwise the last digit of a display would fill it.</summary>
    private const double LeastHeight = 0.06;

    public ChartPanel Build(Parameter parameter)
    {
        var lines = parameter.Lines.Order().Select(c => Line(parameter, c)).ToImmutableArray();
        var limits = Limits(parameter);
        var findings = request.Findings.Where(f => Keys.Same(f.ParameterKey, parameter.Key))
            .SelectMany(f => placed.Where(s => s.StripId == f.BeganAtStrip).Select(s => new FindingMark(request.Axis.Of(s)!.Value, 0, f)));
        var shown = ChartRange.About(
            [
                0,
                .. limits.Select(l => l.Value),
                .. lines.SelectMany(l => l.Points).Select(p => p.Deviation),
                .. lines.Select(l => ChartPanel.NaturalOf(parameter, l))
                    .SelectMany(n => n is { } natural ? new[] { natural.Lower, natural.Upper } : []),
            ],
            LeastHeight,
            0.05);
        var whole = ChartRange.About(
            lines.SelectMany(l => l.Points).SelectMany(p => new[] { p.Lower, p.Upper }).Append(shown.Low).Append(shown.High),
            LeastHeight, 0);

        // Whiskers of poor readings may be cut, so that they do not press everything else flat.
        var (least, most) = (shown.Low - (shown.Width / 2), shown.High + (shown.Width / 2));
        var panelRange = new ChartRange(Math.Max(whole.Low, least), Math.Min(whole.High, most));
        return new ChartPanel(parameter, panelRange, limits, lines, [.. findings.OrderBy(f => f.X)]);
    }

    private ChartLine Line(Parameter parameter, Channel? channel)
    {
        var (points, missing) = (ImmutableArray.CreateBuilder<ChartPoint>(), ImmutableArray.CreateBuilder<MissingPoint>());
        double? resolution = null;
        for (var i = 0; i < placed.Count; i++)
        {
            var strip = placed[i];
            var result = strip.Judgement.Results.FirstOrDefault(r => r.Channel == channel && Keys.Same(r.Parameter.Key, parameter.Key));
            if (result?.Deviation is { } deviation && double.IsFinite(deviation))
            {
                points.Add(Point(strip, result, deviation, runs[i]));
                resolution = Math.Max(resolution ?? 0, result.RestsOn.Select(b => b.Resolution / b.Reads).DefaultIfEmpty(0).Max());
            }
            else
            {
                missing.Add(new MissingPoint(
                    strip.StripId, strip.At, request.Axis.Of(strip)!.Value,
                    result?.WhyMissing ?? "The sheet it was judged by does not have it."));
            }
        }

        var natural = LineSignals.Limits(points, resolution);
        return new ChartLine(channel, LineSignals.Mark(points.ToImmutable(), natural), missing.ToImmutable(), natural);
    }

    private ChartPoint Point(StripPoint strip, ParameterResult result, double deviation, int run)
    {
        var reach = result.StandardUncertainty is { } u && double.IsFinite(u) ? ChartPoint.Coverage * u : 0;
        return new ChartPoint
        {
            StripId = strip.StripId,
            At = strip.At,
            X = request.Axis.Of(strip)!.Value,
            Lot = strip.Lot,
            Line = strip.Line,
            Bottle = strip.Bottle,
            Deviation = deviation,
            StandardUncertainty = result.StandardUncertainty,
            RestsOnAssumption = result.RestsOnAssumption,
            Lower = result.Parameter.HasSign ? deviation - reach : Math.Max(Math.Min(0, deviation), deviation - reach),
            Upper = deviation + reach,
            Zone = result.Zone,
            Verdict = request.VerdictOf?.Invoke(strip, result),
            Run = run,
        };
    }

    /// <summary>By date each strip brings the limits it was judged by; on other axes, where strips
    /// of all times mingle, the newest sheet's are drawn.</summary>
    private ImmutableArray<ChartLimit> Limits(Parameter parameter) =>
    [
        .. from channel in parameter.Lines.Order()
           from limit in Limits(parameter, channel)
           group (channel, limit.Source) by limit with { Source = "" } into same
           let channels = same.Select(s => s.channel).OfType<Channel>().ToImmutableArray()
           select same.Key with { Source = same.First().Source, Channels = channels.Length == parameter.Channels.Length ? [] : channels },
    ];

    private IEnumerable<ChartLimit> Limits(Parameter parameter, Channel? channel) => request.Axis != ChartAxis.Date || placed.Count == 0
        ? Sides(parameter.LimitsIn(channel), range.Low, range.High)
        : Stretches.Of(placed, s => ChartAxes.DayOf(s.At), s => LimitsOf(s, parameter, channel), range, new SameNumbers())
            .SelectMany(s => Sides(s.Kind, s.From, s.To));

    public static ParameterLimits LimitsOf(StripPoint strip, Parameter parameter, Channel? channel) =>
        (strip.Judgement.Results.FirstOrDefault(r => Keys.Same(r.Parameter.Key, parameter.Key))?.Parameter ?? parameter).LimitsIn(channel);

    private static IEnumerable<ChartLimit> Sides(ParameterLimits limits, double start, double end) =>
        from pair in new (ChartLimitKind Kind, Limit? Limit)[] {
            (ChartLimitKind.Action, limits.Action),
            (ChartLimitKind.Control, limits.Control) }
        where pair.Limit is not null
        from value in new[] { pair.Limit.Lower, pair.Limit.Upper }
        where value is not null
        select new ChartLimit(pair.Kind, value.Value, start, end, pair.Limit.Source, []);

    /// <summary>Limits are the same line when their numbers are, whatever source is named.</summary>
    private sealed class SameNumbers : IEqualityComparer<ParameterLimits>
    {
        public bool Equals(ParameterLimits? x, ParameterLimits? y) => Sides(x).SequenceEqual(Sides(y));

        public int GetHashCode(ParameterLimits limits) => Sides(limits).Aggregate(0, HashCode.Combine);

        private static double?[] Sides(ParameterLimits? limits)
        {
            var (action, control) = (limits?.Action, limits?.Control);
            return [action?.Lower, action?.Upper, control?.Lower, control?.Upper];
        }
    }
}

/// <summary>Natural limits of a line, and the rules its strips break.</summary>
internal static class LineSignals
{
    /// <summary>Finds the natural limits of the newest lot's strips; other lots have aims, and so levels, of their own.</summary>
    /// <param name="points">The points, in any order.</param>
    /// <param name="resolution">Step of a deviation; null when not known.</param>
    public static NaturalLimits? Limits(IEnumerable<ChartPoint> points, double? resolution) =>
        NewestLot(points) is { Count: >= ChartLine.LeastForNatural } newest
        ? NaturalLimits.Of([.. newest.Select(p => p.Deviation)], resolution)
        : null;

    /// <summary>Marks the newest lot's strips at which a Western Electric rule is broken.</summary>
    public static ImmutableArray<ChartPoint> Mark(ImmutableArray<ChartPoint> points, NaturalLimits? limits)
    {
        if (limits is not { Sigma: > 0 })
        {
            return points;
        }

        var newest = NewestLot(points);
        var broken = RunSignal.Find(newest.Select(p => limits.Standardize(p.Deviation)), RunRuleSets.WesternElectric)
            .ToLookup(s => newest[s.Index].StripId, s => s.Rule);
        return [.. points.Select(p => broken.Contains(p.StripId) ? p with { Signals = [.. broken[p.StripId]] } : p)];
    }

    private static List<ChartPoint> NewestLot(IEnumerable<ChartPoint> points)
    {
        var inTime = points.OrderBy(p => p.At).ThenBy(p => p.StripId).ToList();
        return inTime is [.., var last] ? inTime.FindAll(p => Keys.Same(p.Lot, last.Lot)) : [];
    }
}

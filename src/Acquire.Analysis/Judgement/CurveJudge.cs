namespace Acquire.Analysis.Judgement;

/// <summary>Takes a curve parameter of a strip and, in the same way, of its aims. Both curves are drawn by the same steps: those that have
/// a mean and an aim, so that a step left out does not look like a deviation.</summary>
internal static class CurveJudge
{
    public static ParameterResult Of(CurveParameter parameter, Channel channel, StripRecord record, ComparedStrip strip, ZeroBetween zero)
    {
        var layout = record.JudgedBy.LayoutOf(record.Layout);
        return layout is not null && parameter.IsOn(layout, record.JudgedBy)
            ? Compare(parameter, channel, layout, strip, zero)
            : Missing($"{parameter.Name} is not on this strip: {WhyNotOn(record, layout)}.").ToResult(
                parameter, channel) with { OnStrip = false };
    }

    private static ParameterResult Compare(
        CurveParameter parameter, Channel channel, SheetLayout layout, ComparedStrip strip, ZeroBetween zero)
    {
        var all = layout.Patches.Where(p => p.LogH is not null || IsBase(parameter, p)).Select(p => strip.Read(p, channel)).ToList();
        if (all.FirstOrDefault(p => IsBase(parameter, p.Patch)) is { Mean: null } unread)
        {
            return Missing(strip.Patch(unread.Patch.Patch.Key, channel).WhyMissing).ToResult(parameter, channel);
        }

        // Without any aim the value alone is told; with aims, a step that has none would pull the two curves apart.
        var hasAims = all.Any(p => p.Aim is not null) && all.Where(p => IsBase(parameter, p.Patch)).All(p => p.Aim is not null);
        var read = all.Where(p => p.Mean is not null && (!hasAims || p.Aim is not null)).ToImmutableArray();
        if (read.Count(p => p.Patch.LogH is not null) < 2)
        {
            return Missing($"{parameter.Name} needs two steps of the curve at least in {channel.Word()}, read and with an aim.").ToResult(
                parameter, channel);
        }

        var shape = new CurveShape(parameter, layout, [.. read.Select(p => p.Patch)]);
        var value = shape.Evaluate([.. read.Select(p => p.Mean!.Mean)]);
        var aim = hasAims ? shape.Evaluate([.. read.Select(p => p.Aim!.Value)]) : null;
        var why = value.Why is { } reason ? $"{parameter.Name}: {reason}."
            : aim is null ? strip.WhyNoAim(all.First(p => p.Aim is null).Patch.Patch.Key, channel)
            : aim.Why is { } onAims ? $"{parameter.Name} has no aim: on the aims "
                + $"{onAims.Replace("on this strip", "", StringComparison.Ordinal).TrimEnd()}."
            : null;
        var restsOn =
            read.Where((_, i) => !value.Derivatives.IsEmpty && value.Derivatives[i] is not (null or 0)).Select(p => p.Basis!);
        return new Comparison(
            value.Value, aim?.Value,
            value.All is { } onStrip && aim?.All is { } atAims
                ? ErrorParts.OfFunction([.. read.Select(p => p.Errors!)], onStrip, atAims) : null,
            [.. restsOn], why).ToResult(parameter, channel, zero) with
        {
            Speed = parameter is SpeedPointParameter speed ? shape.Speed(speed, [.. read.Select(p => p.Mean!.Mean)]) : null,
        };
    }

    private static bool IsBase(CurveParameter parameter, LayoutPatch patch) => Keys.Same(patch.Patch.Key, parameter.BasePatchKey);

    private static Comparison Missing(string? why) => new(null, null, null, [], why);

    private static string WhyNotOn(StripRecord record, SheetLayout? layout) => layout is null
        ? $"the process sheet has no strip layout '{record.Layout.Name}', so the exposures of its steps are not known"
        : $"the strip layout '{record.Layout.Name}' has not the patches with log exposures that it is taken of";
}

/// <summary>One curve parameter as a function of the densities of the patches that
/// were read, whatever they are: the strip's or the aims.</summary>
/// <param name="Patches">The patches that were read: the steps, and the base patch, which may be one of them.</param>
internal sealed record CurveShape(CurveParameter Parameter, SheetLayout Layout, ImmutableArray<LayoutPatch> Patches)
{
    /// <summary>Value and derivatives at some densities, one for each patch.</summary>
    public CurveOutcome Evaluate(ImmutableArray<double> densities)
    {
        var value = Take(densities);
        if (value.Value is null)
        {
            return new CurveOutcome(null, [], value.Why);
        }

        // By number, not by formula: a curve parameter depends on every step through the spline, and the steps differ from strip to strip.
        return new CurveOutcome(value.Value, Propagation.Derivatives(d => Take(d).Value, densities), null);
    }

    /// <summary>What the speed point at some densities means by ISO 6; null when
    /// it is not the point that ISO 6 means, or not there.</summary>
    public SpeedResult? Speed(SpeedPointParameter speed, ImmutableArray<double> densities) =>
        speed.At.Density == Iso6.SpeedDensity && Take(densities).Value is { } logHm
            ? Iso6.Of(Curve(densities), logHm, Layout.Scale)
            : null;

    private CurveValue Take(ImmutableArray<double> densities) => CurveFormula.Of(Parameter, Curve(densities), Layout, Base(densities));

    private CharacteristicCurve Curve(ImmutableArray<double> densities) =>
        new(Patches.Zip(densities).Where(p => p.First.LogH is not null).Select(p => (p.First.LogH!.Value, p.Second)));

    private double? Base(ImmutableArray<double> densities)
    {
        for (var i = 0; i < Patches.Length; i++)
        {
            if (Keys.Same(Patches[i].Patch.Key, Parameter.BasePatchKey))
            {
                return densities[i];
            }
        }

        return null;
    }
}

/// <summary>A curve parameter at some densities.</summary>
/// <param name="Derivatives">By each patch; null where there is none.</param>
internal sealed record CurveOutcome(double? Value, ImmutableArray<double?> Derivatives, string? Why)
{
    /// <summary>The derivatives, where all are known; else null, for then nothing can be said of the uncertainty.</summary>
    public ImmutableArray<double>? All =>
        Value is null || Derivatives.Any(d => d is null) ? null : [.. Derivatives.Select(d => d!.Value)];
}

/// <summary>What each kind of curve parameter takes of a curve.</summary>
internal static class CurveFormula
{
    /// <param name="layout">Where the patches that the parameter names lie.</param>
    /// <param name="baseDensity">Density of its base patch; null when it names none.</param>
    public static CurveValue Of(
        CurveParameter parameter, CharacteristicCurve curve, SheetLayout layout, double? baseDensity) => parameter.Match(
        gradient => Gradient(gradient, curve, baseDensity),
        slope => Slope(slope, curve, layout),
        speed => LogHOf(speed.At, curve, baseDensity, null));

    private static CurveValue Gradient(GradientParameter gradient, CharacteristicCurve curve, double? baseDensity)
    {
        var from = LogHOf(gradient.From, curve, baseDensity, null);
        var to = LogHOf(gradient.To, curve, baseDensity, from.Value);
        if (from.Value is not { } left || to.Value is not { } right)
        {
            return CurveValue.None(from.Why ?? to.Why!);
        }

        var (first, second) = (curve.DensityAt(left), curve.DensityAt(right));
        return first.Value is { } low && second.Value is { } high
            ? left == right
                ? CurveValue.None("its two points fall on one place")
                : CurveValue.Of((high - low) / (right - left))
            : CurveValue.None(first.Why ?? second.Why!);
    }

    private static CurveValue Slope(SlopeParameter slope, CharacteristicCurve curve, SheetLayout layout) =>
        (layout.Find(slope.FromPatchKey)?.LogH, layout.Find(slope.ToPatchKey)?.LogH) is ({ } from, { } to)
            ? curve.SlopeBetween(from, to)
            : CurveValue.None(
                $"the strip layout '{layout.Strip.Name}' gives no log exposure for {slope.FromPatchKey} or {slope.ToPatchKey}");

    private static CurveValue LogHOf(CurvePoint point, CharacteristicCurve curve, double? baseDensity, double? first) => point.Match(
        at => CurveValue.Of(at.LogH),
        above => curve.LogHAt(baseDensity!.Value + above.Density),
        beyond => first is { } start ? CurveValue.Of(start + beyond.DeltaLogH) : CurveValue.None("its first point is not known"));
}

/// <summary>How much a function moves with each of its inputs: what carries their variances through it, to first order (GUM, JCGM 100:2008,
/// 5.1.2).</summary>
internal static class Propagation
{
    /// <summary>Far above the rounding of binary arithmetic, far below any display step. Where the function has a corner,
    /// the central difference takes the mean of both sides.</summary>
    private const double Step = 1e-6;

    /// <summary>The derivative by each input, by central differences, one-sided at the end
    /// of what can be computed; null where there is none.</summary>
    public static ImmutableArray<double?> Derivatives(Func<ImmutableArray<double>, double?> function, ImmutableArray<double> at)
    {
        var centre = function(at);
        return [.. at.Select((x, i) =>
        {
            var (below, above) = (function(at.SetItem(i, x - Step)), function(at.SetItem(i, x + Step)));
            return (below, above) switch
            {
                ({ } b, { } a) => (a - b) / (2 * Step),
                ({ } b, null) => (centre - b) / Step,
                (null, { } a) => (a - centre) / Step,
                _ => null,
            };
        })];
    }
}

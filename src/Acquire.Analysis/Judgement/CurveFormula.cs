namespace Acquire.Analysis.Judgement;

/// <summary>What each kind of curve parameter takes of a curve.</summary>
internal static class CurveFormula
{
    /// <param name="parameter">The parameter.</param>
    /// <param name="curve">The curve.</param>
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

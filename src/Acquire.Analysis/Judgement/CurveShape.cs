namespace Acquire.Analysis.Judgement;

/// <summary>
/// One curve parameter as a function of the densities of the patches that were read, whatever they are: the strip's or the aims.
/// </summary>
/// <param name="Parameter">The parameter.</param>
/// <param name="Layout">The layout.</param>
/// <param name="Patches">The patches that were read: the steps, and the base patch, which may be one of them.</param>
internal sealed record CurveShape(CurveParameter Parameter, SheetLayout Layout, ImmutableArray<LayoutPatch> Patches)
{
    /// <summary>Value and variance at some densities, one for each patch.</summary>
    public CurveOutcome Evaluate(ImmutableArray<double> densities, ImmutableArray<double?> variances)
    {
        var value = Take(densities);
        if (value.Value is null)
        {
            return new CurveOutcome(null, null, [], value.Why);
        }

        var derivatives = Propagation.Derivatives(d => Take(d).Value, densities);
        return new CurveOutcome(value.Value, Propagation.Variance(derivatives, variances), derivatives, null);
    }

    /// <summary>
    /// What the speed point at some densities means by ISO 6; null when it is not the point that ISO 6 means, or not there.
    /// </summary>
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
            if (string.Equals(Patches[i].Patch.Key, Parameter.BasePatchKey, StringComparison.OrdinalIgnoreCase))
            {
                return densities[i];
            }
        }

        return null;
    }
}

/// <summary>A curve parameter at some densities.</summary>
internal sealed record CurveOutcome(double? Value, double? Variance, ImmutableArray<double?> Derivatives, string? Why);

using System.Collections.Immutable;
using System.Globalization;
using Acquire.Domain;
using MathNet.Numerics.LinearRegression;

namespace Acquire.Analysis.Judgement.Curves;

/// <summary>
/// Density over log exposure, drawn by the steps of a strip: straight lines from step to step. A line between neighbours invents nothing
/// between them, keeps rising data rising, and lets the uncertainty of the two steps through; where the curve bends, as in the toe, it
/// lies off a smooth one by a few thousandths of density at steps of 0.2, on the strip and on its aims alike. It ends at its last steps.
/// </summary>
public sealed class CharacteristicCurve
{
    /// <summary>Means and aims are decimals made binary: a density this close to a step is on it.</summary>
    private const double Hair = 1e-9;

    private readonly ImmutableArray<(double LogH, double Density)> _steps;

    /// <summary>Draws a curve.</summary>
    /// <param name="steps">Log exposure and density of each step, in any order.</param>
    /// <exception cref="ImpossibleValueException">Fewer than two steps, a number that is not finite, or two steps of one log exposure.</exception>
    public CharacteristicCurve(IEnumerable<(double LogH, double Density)> steps)
    {
        _steps = [.. steps.OrderBy(s => s.LogH)];
        if (_steps.Length < 2 || _steps.Any(s => !double.IsFinite(s.LogH) || !double.IsFinite(s.Density)))
        {
            throw new ImpossibleValueException("A curve is drawn by two steps at least, each with a log exposure and a density.");
        }

        if (_steps.Zip(_steps.Skip(1)).Any(pair => pair.First.LogH == pair.Second.LogH))
        {
            throw new ImpossibleValueException("Two steps of a curve have one log exposure.");
        }
    }

    /// <summary>The density at a log exposure.</summary>
    public CurveValue DensityAt(double logH)
    {
        for (var i = 1; i < _steps.Length; i++)
        {
            var (left, right) = (_steps[i - 1], _steps[i]);
            if (logH >= left.LogH - Hair && logH <= right.LogH + Hair)
            {
                return CurveValue.Of(left.Density + ((right.Density - left.Density) * (logH - left.LogH) / (right.LogH - left.LogH)));
            }
        }

        return CurveValue.None(Text($"the log exposure {logH:0.00} lies off the strip, which goes from {_steps[0].LogH:0.00} to {_steps[^1].LogH:0.00}"));
    }

    /// <summary>The log exposure that gives a density, on a rising or a falling curve.</summary>
    public CurveValue LogHAt(double density)
    {
        List<double> places = [.. _steps.Where(s => IsOn(s, density)).Select(s => s.LogH)];
        foreach (var (left, right) in _steps.Zip(_steps.Skip(1)))
        {
            if (!IsOn(left, density) && !IsOn(right, density) && (left.Density > density) != (right.Density > density))
            {
                places.Add(left.LogH + ((right.LogH - left.LogH) * (density - left.Density) / (right.Density - left.Density)));
            }
        }

        return places switch
        {
            [var only] => CurveValue.Of(only),
            [] => CurveValue.None(Text($"the density {density:0.00} is not reached on this strip")),
            _ => CurveValue.None(Text($"the density {density:0.00} is passed {places.Count} times on this strip, so no one place is meant")),
        };
    }

    /// <summary>The slope of the least-squares line through the steps of a stretch, its ends included.</summary>
    public CurveValue SlopeBetween(double fromLogH, double toLogH)
    {
        var (low, high) = (Math.Min(fromLogH, toLogH), Math.Max(fromLogH, toLogH));
        var within = _steps.Where(s => s.LogH >= low - Hair && s.LogH <= high + Hair).ToList();
        return within.Count < 2
            ? CurveValue.None("fewer than two steps of the straight part were read")
            : CurveValue.Of(SimpleRegression.Fit([.. within.Select(s => s.LogH)], [.. within.Select(s => s.Density)]).B);
    }

    private static bool IsOn((double LogH, double Density) step, double density) => Math.Abs(step.Density - density) <= Hair;

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}

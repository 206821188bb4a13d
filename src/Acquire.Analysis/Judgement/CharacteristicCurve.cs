using MathNet.Numerics.Interpolation;
using MathNet.Numerics.LinearRegression;
using MathNet.Numerics.RootFinding;

namespace Acquire.Analysis.Judgement;

/// <summary>Density over log exposure, drawn by the steps of a strip: piecewise cubic and monotone between neighbours (Fritsch and Carlson,
/// SIAM J. Numer. Anal. 17, 1980), so that it goes through every step, rises where they rise and invents no wave. Straight lines would lie
/// off the bend of a toe by up to two thousandths of density at steps of 0.15 log H, now more and now less as the steps fall, which makes a
/// speed point wander by nearly 0.01 log H. Two steps make a line. It ends at its last steps.</summary>
public sealed class CharacteristicCurve
{
    /// <summary>Means and aims are decimals made binary: a density this close to a step is on it.</summary>
    private const double Hair = 1e-9;

    private readonly ImmutableArray<(double LogH, double Density)> _steps;
    private readonly IInterpolation _line;

    /// <summary>Draws a curve.</summary>
    /// <param name="steps">Log exposure and density of each step, in any order.</param>
    /// <exception cref="ImpossibleValueException">Fewer than two steps, a number that
    /// is not finite, or two steps of one log exposure.</exception>
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

        double[] logH = [.. _steps.Select(s => s.LogH)], density = [.. _steps.Select(s => s.Density)];
        _line = _steps.Length < 3 ? LinearSpline.InterpolateSorted(logH, density) : CubicSpline.InterpolatePchipSorted(logH, density);
    }

    /// <summary>The density at a log exposure.</summary>
    public CurveValue DensityAt(double logH) => logH >= _steps[0].LogH - Hair && logH <= _steps[^1].LogH + Hair
        ? CurveValue.Of(_line.Interpolate(logH))
        : CurveValue.None(
            Text($"the log exposure {logH:0.00} lies off the strip, which goes from {_steps[0].LogH:0.00} to {_steps[^1].LogH:0.00}"));

    /// <summary>The log exposure that gives a density, on a rising or a falling curve.</summary>
    public CurveValue LogHAt(double density)
    {
        List<double> places = [.. _steps.Where(s => IsOn(s, density)).Select(s => s.LogH)];
        foreach (var (left, right) in _steps.Zip(_steps.Skip(1)))
        {
            // A step that lies on the density is counted above, once, and not again by both pieces that meet there.
            if (!IsOn(left, density) && !IsOn(right, density) && (left.Density > density) != (right.Density > density))
            {
                places.Add(Brent.FindRoot(h => _line.Interpolate(h) - density, left.LogH, right.LogH, 1e-12, 200));
            }
        }

        return places switch
        {
            [var only] => CurveValue.Of(only),
            [] => CurveValue.None(Text($"the density {density:0.00} is not reached on this strip")),
            _ =>
                CurveValue.None(Text($"the density {density:0.00} is passed {places.Count} times on this strip, so no one place is meant")),
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

/// <summary>A value taken of a curve, or the reason why there is none, for the user.</summary>
/// <param name="Value">The value; null when there is none.</param>
/// <param name="Why">Why there is none; null when there is one.</param>
public readonly record struct CurveValue(double? Value, string? Why)
{
    /// <summary>A value.</summary>
    public static CurveValue Of(double value) => new(value, null);

    /// <summary>No value, and why.</summary>
    public static CurveValue None(string why) => new(null, why);
}

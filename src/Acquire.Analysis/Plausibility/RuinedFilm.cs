using MathNet.Numerics.LinearAlgebra;

namespace Acquire.Analysis.Plausibility;

/// <summary>What a process does when it fails altogether, or was meant to do other than usual: a dead developer, a push of up to two stops,
/// a bleach that was skipped, heavy fog. Each is one curve of deviations along its strength, taken at some points, with colours and patches
/// that do not quite go together. The shapes and shares are rough; common practice, no source.</summary>
internal static class RuinedFilm
{
    // Of a hundred strips so many; shared out among the points of each curve.
    private const double ShareOfEach = 0.008;

    // Image that is left out or laid on, in shares, from where known faults end; silver that stays, in shares of the image; fog at D-min,
    // in density.
    private static readonly double[] Lost = [0.40, 0.55, 0.70, 0.85, 0.95];
    private static readonly double[] Gained = [0.15, 0.30, 0.45];
    private static readonly double[] Silver = [0.15, 0.30, 0.45, 0.60, 0.75];
    private static readonly double[] Fog = [0.10, 0.20, 0.35, 0.50, 0.70, 0.90];

    // A developer that does too much veils the film; by so much and in each colour.
    private const double Veil = 0.04;
    private const double VeilOfColour = 0.02;

    /// <summary>The states that are added to those of a process that can be mended.</summary>
    /// <param name="model">The strip.</param>
    /// <param name="inOrder">Covariance of the deviations of a process in order.</param>
    public static IEnumerable<ProcessState> Of(StripModel model, Matrix<double> inOrder)
    {
        var clearest = model.Cells.GroupBy(c => c.Channel).ToDictionary(g => g.Key, g => g.Min(c => c.Aim.Value));
        double[] image = [.. model.Cells.Select(c => c.Aim.Value - clearest[c.Channel])];
        // Silver is grey and lies where any dye lies; how much of it lies under a patch of one dye only is rough.
        var dye = model.Cells.Zip(image).GroupBy(c => c.First.Slot).ToDictionary(g => g.Key, g => g.Average(c => c.Second));
        double[] grey = [.. model.Cells.Select(c => dye[c.Slot])];
        return
        [
            .. Curve(Lost, s => [.. image.Select(i => -s * i)], new Looseness(0.06, 0.06, 0.03, 0)),
            .. Curve(Gained, s => [.. image.Select(i => s * i)], new Looseness(0.15, 0.12, 0.06, 0), veil: 1),
            .. Curve(Silver, s => [.. grey.Select(g => s * g)], new Looseness(0.06, 0.15, 0.06, 0)),
            // Fog is light: where there is image already it adds less.
            .. Curve(Fog, s => [.. image.Select(i => Math.Log10(1 + ((Math.Pow(10, s) - 1) * Math.Pow(10, -i))))],
                new Looseness(0.12, 0.12, 0.05, 0.04)),
        ];

        IEnumerable<ProcessState> Curve(double[] strengths, Func<double, double[]> at, Looseness loose, double veil = 0) =>
            strengths.Select((s, i) => new ProcessState(
                ShareOfEach / strengths.Length,
                inOrder + Between(strengths, i, at) + loose.Of(model, at(s), s) + (veil * veil * Veiled(model)))
            {
                Offset = at(s),
            });
    }

    /// <summary>Strengths between this point and the next.</summary>
    private static Matrix<double> Between(double[] strengths, int i, Func<double, double[]> at)
    {
        // Half the gap as a standard deviation leaves no hole between two points.
        var half = (i + 1 < strengths.Length ? strengths[i + 1] - strengths[i] : strengths[i] - strengths[i - 1]) / 2;
        var vector = Vector<double>.Build;
        var tangent = (vector.Dense(at(strengths[i] + half)) - vector.Dense(at(strengths[i] - half))) / 2;
        return tangent.OuterProduct(tangent);
    }

    private static Matrix<double> Veiled(StripModel model) => Matrix<double>.Build.Dense(
        model.Cells.Length, model.Cells.Length,
        (i, j) => (Veil * Veil) + (model.Cells[i].Channel == model.Cells[j].Channel ? VeilOfColour * VeilOfColour : 0));

    /// <summary>How far deviations stray from the curve, as shares of them: a colour by itself, a patch by itself, a cell by itself; and a
    /// patch by itself as a share of the strength.</summary>
    private readonly record struct Looseness(double Colour, double Patch, double Cell, double PatchOfStrength)
    {
        public Matrix<double> Of(StripModel model, double[] m, double strength)
        {
            var (colour, patch, cell, ofStrength) = (Colour * Colour, Patch * Patch, Cell * Cell, Square(PatchOfStrength * strength));
            return Matrix<double>.Build.Dense(m.Length, m.Length, (i, j) =>
                (model.Cells[i].Channel == model.Cells[j].Channel ? colour * m[i] * m[j] : 0)
                + (model.Cells[i].Slot == model.Cells[j].Slot ? (patch * m[i] * m[j]) + ofStrength : 0)
                + (i == j ? cell * m[i] * m[i] : 0));
        }
    }

    private static double Square(double x) => x * x;
}

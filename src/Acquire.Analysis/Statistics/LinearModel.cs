using MathNet.Numerics.LinearAlgebra;

namespace Acquire.Analysis.Statistics;

/// <summary>A linear model y = b₀ + Σ bⱼ xⱼ by least squares. Built by <see cref="LeastSquares"/>; checked against the certified
/// values of the NIST Statistical Reference Datasets.</summary>
public sealed record LinearModel
{
    /// <summary>What each coefficient belongs to; the constant, where there is one, comes first.</summary>
    public required ImmutableArray<string> Names { get; init; }

    public required ImmutableArray<double> Coefficients { get; init; }

    /// <summary>Squares about the model; no fewer than the least scatter that was given makes.</summary>
    public required SquaresRow Residual { get; init; }

    /// <summary>Squares explained: about the mean where there is a constant, about 0 where there is none.</summary>
    public required SquaresRow Explained { get; init; }

    /// <summary>y minus the model's value, in the order of the rows.</summary>
    public required ImmutableArray<double> Residuals { get; init; }

    /// <summary>Leverage of each row, 0 … 1.</summary>
    public required ImmutableArray<double> Leverages { get; init; }

    /// <summary>(XᵀX)⁻¹; times the residual variance it is the covariance of the coefficients.</summary>
    public required Matrix<double> Unscaled { get; init; }

    /// <summary>Standard deviation of y about the model; null without degrees of freedom.</summary>
    public double? ResidualDeviation => Residual.DegreesOfFreedom > 0 ? Math.Sqrt(Residual.SumOfSquares / Residual.DegreesOfFreedom) : null;

    /// <summary>Share of the squares explained; 0 where there are none to explain.</summary>
    public double RSquared => Explained.SumOfSquares is > 0 and { } explained ? explained / (explained + Residual.SumOfSquares) : 0;

    /// <summary>Mean square explained over the residual one; infinite for an exact
    /// fit, null where a model explains nothing by design.</summary>
    public double? F => (Explained.MeanSquare, Residual.MeanSquare) switch
    {
        ({ } explained, > 0 and { } residual) => explained / residual,
        ({ } explained, 0) when explained > 0 => double.PositiveInfinity,
        _ => null,
    };

    /// <summary>Chance of an F this large when nothing matters.</summary>
    public double? P => F is not { } f ? null
        : double.IsPositiveInfinity(f) ? 0 : Quantiles.FisherTail(f, Explained.DegreesOfFreedom, Residual.DegreesOfFreedom);

    /// <summary>Standard error of a coefficient; null without degrees of freedom.</summary>
    public double? StandardError(int index) => ResidualDeviation is { } s ? s * Math.Sqrt(Unscaled[index, index]) : null;

    /// <summary>Chance of a coefficient this far from 0 when it is 0; null without degrees of freedom.</summary>
    public double? PValue(int index) => StandardError(index) switch
    {
        null => null,
        0 => Coefficients[index] == 0 ? 1 : 0,
        { } error => Quantiles.StudentTail(Coefficients[index] / error, Residual.DegreesOfFreedom),
    };

    /// <summary>Rows that lie farther from the model than chance explains: the externally studentized residual against
    /// Student's t, corrected for having looked at every row (R. D. Cook and S. Weisberg, <i>Residuals and Influence in
    /// Regression</i>, 1982). They are named, never dropped.</summary>
    /// <param name="significance">Chance of naming any row when none is out.</param>
    /// <returns>Index, studentized residual and corrected chance of each such
    /// row; none where three degrees of freedom are not left.</returns>
    public IEnumerable<(int Index, double T, double P)> Outlying(double significance = 0.01)
    {
        var freedom = Residual.DegreesOfFreedom - 1;
        for (var i = 0; freedom >= 2 && i < Residuals.Length; i++)
        {
            // A row that the model follows wherever it goes (leverage 1) has no residual to judge it by.
            var left = 1 - Leverages[i];
            var own = left > 1e-9 ? Residuals[i] * Residuals[i] / left : 0;
            var others = (Residual.SumOfSquares - own) / freedom;
            if (others <= 0 || own == 0)
            {
                continue;
            }

            var t = Residuals[i] / Math.Sqrt(others * left);
            if (Math.Min(1, Residuals.Length * Quantiles.StudentTail(t, freedom)) is var p && p < significance)
            {
                yield return (i, t, p);
            }
        }
    }

    /// <summary>A weighted sum of the coefficients, with its standard error.</summary>
    /// <param name="weights">One for each coefficient, in the order of <see cref="Names"/>.</param>
    public (double Value, double? StandardError) Combine(IReadOnlyList<double> weights) =>
        (weights.Zip(Coefficients, (w, b) => w * b).Sum(),
            ResidualDeviation is { } s ? s * Math.Sqrt(Math.Max(0, Form(weights, weights))) : null);

    /// <summary>Covariance of two weighted sums of the coefficients; null without degrees of freedom.</summary>
    public double? Covariance(IReadOnlyList<double> left, IReadOnlyList<double> right) =>
        ResidualDeviation is { } s ? s * s * Form(left, right) : null;

    private double Form(IReadOnlyList<double> left, IReadOnlyList<double> right) =>
        CompensatedSum.Of(left.SelectMany((l, i) => right.Select((r, j) => l * Unscaled[i, j] * r)));
}

/// <summary>One column of a linear model.</summary>
/// <param name="Name">What it is, for the user.</param>
/// <param name="Values">Its value in each row.</param>
public sealed record Term(string Name, ImmutableArray<double> Values)
{
    /// <summary>Makes the columns of a factor: one for each level but the first, 1 where the row has the level and 0 elsewhere.</summary>
    /// <param name="levels">The level of each row.</param>
    /// <param name="reference">The level that the others are compared with; null for the first in ordinal order.</param>
    public static ImmutableArray<Term> Factor(string name, IReadOnlyList<string> levels, string? reference = null)
    {
        var all = levels.Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal).ToList();
        var first = reference ?? all.FirstOrDefault();
        return [.. all.Where(l => l != first).Select(l => new Term($"{name} {l}", [.. levels.Select(v => v == l ? 1.0 : 0.0)]))];
    }

    /// <summary>The product of two columns, for an interaction.</summary>
    public static Term operator *(Term left, Term right)
    {
        return new Term($"{left.Name} × {right.Name}", [.. left.Values.Zip(right.Values, (a, b) => a * b)]);
    }
}

/// <summary>Data from which a model cannot be made. The message is for the user: what is wrong, what was expected, what to do.</summary>
public sealed class ModelException(string message) : Exception(message);

/// <summary>What more terms add to a model that is part of a larger one.</summary>
/// <param name="Extra">Squares that the further terms explain.</param>
/// <param name="Residual">Squares about the larger model.</param>
public sealed record ModelComparison(SquaresRow Extra, SquaresRow Residual)
{
    /// <summary>Mean square of the further terms over the residual one; null without degrees of freedom or scatter.</summary>
    public double? F => Residual.MeanSquare is > 0 and { } residual ? Extra.MeanSquare / residual : null;

    /// <summary>Chance of an F this large when the further terms do nothing.</summary>
    public double? P => F is { } f ? Quantiles.FisherTail(f, Extra.DegreesOfFreedom, Residual.DegreesOfFreedom) : null;

    /// <summary>Compares two models of the same rows.</summary>
    public static ModelComparison Of(LinearModel smaller, LinearModel larger)
    {
        return new ModelComparison(
            new SquaresRow(
                Math.Max(0, smaller.Residual.SumOfSquares - larger.Residual.SumOfSquares),
                smaller.Residual.DegreesOfFreedom - larger.Residual.DegreesOfFreedom),
            larger.Residual);
    }
}

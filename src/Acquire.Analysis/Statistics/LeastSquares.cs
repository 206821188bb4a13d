using MathNet.Numerics.LinearAlgebra;

namespace Acquire.Analysis.Statistics;

/// <summary>Least squares by QR. Where there is a constant the columns are centred, and every column is scaled to length 1, so that digits
/// are lost only to what the data themselves leave open; one step of refinement with compensated residuals mends the rest.</summary>
public static class LeastSquares
{
    /// <summary>A column of which less than this is left beside the columns before it says nothing of its own.</summary>
    private const double Dependent = 1e-9;

    /// <summary>Fits a model.</summary>
    /// <param name="y">The values, one for each of n rows, in any unit; residuals and coefficients come in it.</param>
    /// <param name="terms">The columns, each n long; none for a mean only.</param>
    /// <param name="constant">Whether the model has a constant.</param>
    /// <param name="least">Standard deviation, in y's unit, that rows are known to scatter by at least, such as what reading and display
    /// step make: a few rounded values may lie on a model by chance, and would make it look exact.</param>
    /// <exception cref="ModelException">Fewer rows than coefficients, a number that is not finite, or a column that
    /// the others make up already: the message names it.</exception>
    public static LinearModel Fit(IReadOnlyList<double> y, IReadOnlyList<Term> terms, bool constant = true, double least = 0)
    {
        Check(y, terms, constant);
        var columns = terms.Select(t => Column.Of(t, constant)).ToArray();
        Depend(columns);
        var mean = constant ? Summary.Of(y).Mean : 0;
        var centred = Vector<double>.Build.Dense(y.Count, i => y[i] - mean);
        return Solve(y, centred, mean, columns, constant, least);
    }

    private static LinearModel Solve(
        IReadOnlyList<double> y, Vector<double> centred, double mean, Column[] columns, bool constant, double least)
    {
        var n = y.Count;
        var slopes = Vector<double>.Build.Dense(Math.Max(columns.Length, 1));
        Matrix<double>? inner = null;
        var leverages = Enumerable.Repeat(constant ? 1.0 / n : 0, n).ToArray();
        var left = centred.ToArray();
        if (columns.Length > 0)
        {
            var x = Matrix<double>.Build.Dense(n, columns.Length, (i, j) => columns[j].Scaled[i]);
            var qr = x.QR(MathNet.Numerics.LinearAlgebra.Factorization.QRMethod.Thin);
            Rank(qr.R, columns);
            // The first pass solves, the others solve again for what is left over: columns that nearly go together lose digits in one.
            for (var pass = 0; pass < 3; pass++)
            {
                slopes += qr.Solve(Vector<double>.Build.Dense(left));
                left = Left(centred, columns, slopes);
            }

            var inverse = qr.R.Inverse();
            inner = inverse * inverse.Transpose();
            for (var i = 0; i < n; i++)
            {
                leverages[i] += qr.Q.Row(i).DotProduct(qr.Q.Row(i));
            }
        }

        return Build(y, mean, columns, slopes, inner, left, leverages, constant, least);
    }

    private static LinearModel Build(
        IReadOnlyList<double> y, double mean, Column[] columns, Vector<double> scaled, Matrix<double>? inner, double[] left,
        double[] leverages, bool constant, double least)
    {
        var n = y.Count;
        var slopes = columns.Select((c, j) => scaled[j] / c.Length).ToArray();
        var total = Squares(y.Select(v => v - mean));
        var residual = Squares(left);

        // What rounding alone leaves of an exact fit is no scatter.
        residual = residual <= total * n * n * 1e-30 ? 0 : residual;
        var freedom = n - columns.Length - (constant ? 1 : 0);
        return new LinearModel
        {
            Names = [.. constant ? ["constant"] : (string[])[], .. columns.Select(c => c.Name)],
            Coefficients = [.. constant ? [Constant(mean, columns, slopes)] : (double[])[], .. slopes],
            Residual = new SquaresRow(Math.Max(residual, freedom * least * least), freedom),
            Explained = new SquaresRow(Math.Max(0, total - residual), columns.Length),
            Residuals = [.. left],
            Leverages = [.. leverages],
            Unscaled = Unscaled(n, columns, inner, constant),
        };
    }

    private static double Constant(double mean, Column[] columns, double[] slopes) =>
        CompensatedSum.Of([mean, .. columns.Zip(slopes, (column, slope) => -slope * column.Mean)]);

    /// <summary>Carries (XᵀX)⁻¹ of the centred, scaled columns over to the columns as given, with the constant.</summary>
    private static Matrix<double> Unscaled(int n, Column[] columns, Matrix<double>? inner, bool constant)
    {
        var (p, shift) = (columns.Length, constant ? 1 : 0);
        var result = Matrix<double>.Build.Dense(p + shift, p + shift);
        for (var i = 0; i < p; i++)
        {
            for (var j = 0; j < p; j++)
            {
                result[i + shift, j + shift] = inner![i, j] / columns[i].Length / columns[j].Length;
            }
        }

        if (!constant)
        {
            return result;
        }

        // The columns were centred, so the constant is the mean less each slope times its column's mean, and its covariances follow.
        result[0, 0] = 1.0 / n;
        for (var i = 0; i < p; i++)
        {
            var cross = 0.0;
            for (var j = 0; j < p; j++)
            {
                cross -= result[i + 1, j + 1] * columns[j].Mean;
            }

            result[0, i + 1] = result[i + 1, 0] = cross;
            result[0, 0] -= cross * columns[i].Mean;
        }

        return result;
    }

    private static double[] Left(Vector<double> centred, Column[] columns, Vector<double> slopes)
    {
        var left = new double[centred.Count];
        for (var i = 0; i < left.Length; i++)
        {
            var sum = default(CompensatedSum);
            sum.Add(centred[i]);
            for (var j = 0; j < columns.Length; j++)
            {
                var (a, b) = (-slopes[j], columns[j].Scaled[i]);
                sum.Add(a * b);
                // The part of the product that its rounding lost.
                sum.Add(Math.FusedMultiplyAdd(a, b, -(a * b)));
            }

            left[i] = sum.Value;
        }

        return left;
    }

    private static double Squares(IEnumerable<double> values) => CompensatedSum.Of(values.Select(v => v * v));

    private static void Check(IReadOnlyList<double> y, IReadOnlyList<Term> terms, bool constant)
    {
        var needed = terms.Count + (constant ? 1 : 0);
        if (y.Count < needed || y.Count == 0)
        {
            throw new ModelException(FormattableString.Invariant(
                $"There are {y.Count} values for a model of {needed} coefficients; it needs {needed} at least, better several more."));
        }

        if (!y.All(double.IsFinite))
        {
            throw new ModelException("A value to be explained is not finite.");
        }

        foreach (var term in terms)
        {
            if (term.Values.Length != y.Count)
            {
                throw new ModelException(FormattableString.Invariant($"'{term.Name}' has {term.Values.Length} values for {y.Count} rows."));
            }

            if (!term.Values.All(double.IsFinite))
            {
                throw new ModelException($"'{term.Name}' has a value that is not finite.");
            }
        }
    }

    private static void Depend(Column[] columns)
    {
        if (columns.FirstOrDefault(c => c.Length == 0) is { } still)
        {
            throw new ModelException($"'{still.Name}' is the same in every row, so nothing can be told of its effect.");
        }
    }

    private static void Rank(Matrix<double> r, Column[] columns)
    {
        for (var j = 0; j < columns.Length; j++)
        {
            // Columns are of length 1, so this is the share of a column that those before it do not make up, whatever its unit.
            if (Math.Abs(r[j, j]) < Dependent)
            {
                throw new ModelException(
                    $"'{columns[j].Name}' goes together with {string.Join(" and ", columns.Take(j).Select(c => $"'{c.Name}'"))} in "
                    + $"every row, so their effects cannot be told apart.");
            }
        }
    }

    /// <summary>A column, centred where there is a constant, and scaled to length 1.</summary>
    private sealed record Column(string Name, double Mean, double Length, double[] Scaled)
    {
        public static Column Of(Term term, bool centre)
        {
            var mean = centre ? Summary.Of(term.Values).Mean : 0;
            var values = term.Values.Select(v => v - mean).ToArray();
            var largest = term.Values.Max(Math.Abs);
            var length = Math.Sqrt(Squares(values));
            // A column constant but for rounding: scaled to length 1, the rounding would pass for an effect.
            length = length <= largest * 1e-13 * values.Length ? 0 : length;
            return new Column(term.Name, mean, length, length == 0 ? values : [.. values.Select(v => v / length)]);
        }
    }
}

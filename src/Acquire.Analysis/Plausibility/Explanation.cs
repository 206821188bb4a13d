using Acquire.Analysis.Statistics;
using MathNet.Numerics.LinearAlgebra;

namespace Acquire.Analysis.Plausibility;

/// <summary>
/// What a hypothesis says each shown value is made of: a sum of true densities of the strip, plus a fixed shift, plus errors of unknown
/// size along given vectors, plus errors of each value.
/// </summary>
/// <param name="Weights">Rows for values, columns for the model's cells.</param>
internal sealed record Explanation(Matrix<double> Weights)
{
    /// <summary>A fixed shift of each value; null for none.</summary>
    public double[]? Shift { get; init; }

    /// <summary>Errors that the values share, each vector at one standard deviation.</summary>
    public ImmutableArray<double[]> Errors { get; init; } = [];

    /// <summary>Standard deviation of an error of each value's own; 0 for none.</summary>
    public double OwnError { get; init; }

    /// <summary>Every value is the density of one cell.</summary>
    /// <param name="data">The values.</param>
    /// <param name="model">The strip.</param>
    /// <param name="source">The slot and channel that a cell of the data truly shows.</param>
    /// <returns>Null when a cell that is needed has no aim.</returns>
    public static Explanation? Reads(StripData data, StripModel model, Func<DataCell, DataCell> source) =>
        Sums(data, model, cell => [(source(cell), 1)]);

    /// <summary>Every value is a weighted sum of the densities of cells.</summary>
    public static Explanation? Sums(StripData data, StripModel model, Func<DataCell, IEnumerable<(DataCell Cell, double Weight)>> parts)
    {
        var weights = Matrix<double>.Build.Dense(data.Cells.Length, model.Cells.Length);
        for (var i = 0; i < data.Cells.Length; i++)
        {
            foreach (var (cell, weight) in parts(data.Cells[i]))
            {
                if (model.Find(cell.Slot, cell.Channel) is not { } index)
                {
                    return null;
                }

                weights[i, index] += weight;
            }
        }

        return new Explanation(weights);
    }

    /// <summary>The distribution of the values that follows, the process doing any of what it may do.</summary>
    public GaussianMixture Predict(StripModel model, StripData data)
    {
        var vector = Vector<double>.Build;
        var center = (Weights * vector.Dense(model.Aims)) + (Shift is null ? vector.Dense(data.Values.Length) : vector.Dense(Shift));
        var noise = data.Noise + (Matrix<double>.Build.DenseIdentity(data.Values.Length) * (OwnError * OwnError));
        foreach (var error in Errors)
        {
            var e = vector.Dense(error);
            noise += e.OuterProduct(e);
        }

        return new GaussianMixture(
        [
            .. model.States.Select(s => new MixturePart(
                Math.Log(s.Weight),
                (center + (Weights * vector.Dense(s.Mean))).ToArray(),
                (Weights * s.Covariance * Weights.Transpose()) + noise,
                s.Direction is null ? null : (Weights * vector.Dense(s.Direction)).ToArray(),
                s.Scale)),
        ]);
    }
}

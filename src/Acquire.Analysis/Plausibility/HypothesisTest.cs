using Acquire.Analysis.Statistics;
using MathNet.Numerics.LinearAlgebra;

namespace Acquire.Analysis.Plausibility;

/// <summary>Weighs hypotheses against "the process did this" by their marginal
/// likelihood. Keeps what it has worked out for a strip model.</summary>
internal sealed class HypothesisTest(StripModel model)
{
    private readonly Dictionary<(string, string), GaussianMixture?> _predictions = [];

    // Whatever nobody foresaw, at large: other film, a broken lamp. It keeps a mistake from being named only because all else fits even
    // less.
    private const double StrangePrior = 0.001;
    private const double StrangeSize = 0.4;

    /// <summary>How well the values are explained without a mistake that has a name: the logarithm of the density of "the process did this"
    /// together with "something nobody foresaw"; and the odds of the second against the first.</summary>
    public (double LogDensity, double Strangeness) Unnamed(StripData data)
    {
        var process = Prediction("process", data, d => Explanation.Reads(d, model, cell => cell))!.LogDensity(data.Values);
        var strange = Math.Log(StrangePrior)
            + Prediction("strange", data, d => Explanation.Reads(d, model, cell => cell)! with { OwnError = StrangeSize })!.LogDensity(
                data.Values);
        var larger = Math.Max(process, strange);
        return (larger + Math.Log(Math.Exp(process - larger) + Math.Exp(strange - larger)), strange - process);
    }

    /// <summary>Logarithm of posterior odds; null when the hypothesis does not fit
    /// this strip, or cannot come up to the least evidence.</summary>
    public double? Evidence(Hypothesis hypothesis, StripData data, double unnamed, double least)
    {
        var mistake = Prediction(hypothesis.Id, data, hypothesis.Explain);
        var offset = Math.Log(hypothesis.Prior) - unnamed;
        // The bound is known beforehand, the density takes a solve for each state: most hypotheses end here.
        // Turned round so that what is no number ends here too.
        if (mistake is null || !(offset + mistake.LogBound >= least))
        {
            return null;
        }

        var evidence = offset + mistake.LogDensity(data.Values);
        return double.IsNaN(evidence) ? null : Math.Clamp(evidence, -Most, Most);
    }

    // Values that neither side can explain give odds of infinity over infinity; far beyond any threshold anyway.
    private const double Most = 1e4;

    private GaussianMixture? Prediction(string? id, StripData data, Func<StripData, Explanation?> explain)
    {
        if (id is null)
        {
            return explain(data)?.Predict(model, data);
        }

        if (!_predictions.TryGetValue((id, data.Key), out var prediction))
        {
            prediction = explain(data)?.Predict(model, data);
            _predictions.Add((id, data.Key), prediction);
        }

        return prediction;
    }
}

/// <summary>A mistake that may have been made, and what the instrument would then show.</summary>
/// <param name="Id">Tells it from the others; null when it rests on this strip alone, so that nothing of it is worth keeping.</param>
/// <param name="Kind">The mistake.</param>
/// <param name="Prior">How often it happens, for each strip, against nothing happening.</param>
/// <param name="Slots">The patches concerned.</param>
/// <param name="Remedy">What is proposed.</param>
/// <param name="Explain">What each value is made of; null when the hypothesis does not fit this strip.</param>
internal sealed record Hypothesis(
    string? Id, SuspicionKind Kind, double Prior, ImmutableArray<int> Slots, string Question, Remedy Remedy,
    Func<StripData, Explanation?> Explain)
{
    /// <summary>The question where it takes work to put it in words; asked for only when the evidence is worth it.</summary>
    public Func<string>? Say { get; init; }
}

/// <summary>What a hypothesis says each shown value is made of: a sum of true densities of the strip, plus a fixed shift, plus errors of
/// unknown size along given vectors, plus errors of each value.</summary>
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

        var sources = Sources();
        return new GaussianMixture(
        [
            .. model.States.Select(s => new MixturePart(
                Math.Log(s.Weight),
                Shown(s.Offset, sources) is { } offset ? [.. offset.Select((o, i) => o + center[i])] : center.ToArray(),
                Spread(s.Covariance, sources, noise),
                Shown(s.Direction, sources), s.Scale)),
        ]);
    }

    private double[]? Shown(double[]? cells, int[]? sources) => cells is null ? null
        : sources is null ? (Weights * Vector<double>.Build.Dense(cells)).ToArray()
        : Array.ConvertAll(sources, s => s < 0 ? 0 : cells[s]);

    private double[] Spread(Matrix<double> covariance, int[]? sources, Matrix<double> noise)
    {
        if (sources is null)
        {
            var spread = (Weights * covariance * Weights.Transpose()) + noise;
            return MixturePart.Packed(spread.RowCount, spread.At);
        }

        return MixturePart.Packed(sources.Length, (i, j) =>
            noise.At(i, j) + (sources[i] < 0 || sources[j] < 0 ? 0 : covariance.At(sources[i], sources[j])));
    }

    // Nearly always a value is one cell or none, and then the products of whole matrices, which take most of the time, are but a choice.
    private int[]? Sources()
    {
        var sources = new int[Weights.RowCount];
        for (var i = 0; i < sources.Length; i++)
        {
            sources[i] = -1;
            for (var j = 0; j < Weights.ColumnCount; j++)
            {
                if (Weights.At(i, j) is var weight && weight != 0)
                {
                    if (weight != 1 || sources[i] >= 0)
                    {
                        return null;
                    }

                    sources[i] = j;
                }
            }
        }

        return sources;
    }
}

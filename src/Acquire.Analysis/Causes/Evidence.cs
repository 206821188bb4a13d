using MathNet.Numerics.LinearAlgebra;

namespace Acquire.Analysis.Causes;

/// <summary>The deviations of one strip and how they scatter together when nothing happened.</summary>
/// <remarks>
/// Likelihoods are Student's, not normal: no table knows how large the unexplained rest may be, and under the normal one a
/// single patch ten standard deviations off would make anything certain that happens to explain it.
/// </remarks>
internal sealed class Evidence
{
    /// <summary>Degrees of freedom of the common scale of what is not explained. Judgement.</summary>
    private const double Freedom = 8;

    /// <summary>What a colour has of the run for itself, as a share of the variance. Judgement.</summary>
    private const double ColourShare = 0.1;

    private readonly Vector<double> _deviations;

    /// <param name="zero">Variance of what the zero adds to all deviations alike.</param>
    public Evidence(ImmutableArray<EvidenceCell> cells, NaturalScatter scatter, double zero)
    {
        Cells = cells;
        _deviations = Vector<double>.Build.DenseOfEnumerable(cells.Select(c => c.Deviation));
        Scatter = Build((i, j) =>
        {
            // What moves a run moves all its patches, so their deviations are not independent and must not count one by one.
            var run = scatter.Run * NaturalScatter.ShareOf(cells[i].PatchKey) * scatter.Run * NaturalScatter.ShareOf(cells[j].PatchKey);
            return (run * (1 + (cells[i].Channel == cells[j].Channel ? ColourShare : 0))) + zero
                + (i == j ? cells[i].Variance + (scatter.Own * scatter.Own) : 0);
        });
        LogOfNothing = LogDensity(null, Scatter);
    }

    public ImmutableArray<EvidenceCell> Cells { get; }

    /// <summary>Covariance of the deviations when nothing happened.</summary>
    public Matrix<double> Scatter { get; }

    /// <summary>Logarithm of the likelihood when nothing happened.</summary>
    public double LogOfNothing { get; }

    /// <summary>Standard deviation of one deviation when nothing happened.</summary>
    public double ScatterOf(int cell) => Math.Sqrt(Scatter[cell, cell]);

    /// <summary>A matrix over the cells.</summary>
    public Matrix<double> Build(Func<int, int, double> of) => Matrix<double>.Build.Dense(Cells.Length, Cells.Length, of);

    /// <summary>A vector over the cells.</summary>
    public Vector<double> Build(Func<EvidenceCell, double> of) => Vector<double>.Build.DenseOfEnumerable(Cells.Select(of));

    /// <summary>What a shift of so much leaves of the deviations.</summary>
    public Vector<double> Left(Vector<double> expected) => _deviations - expected;

    /// <summary>Logarithm of the density of the deviations, less a constant that is the same for every hypothesis.</summary>
    /// <param name="expected">What is expected; null for aim.</param>
    /// <param name="covariance">How it scatters, natural scatter included.</param>
    public double LogDensity(Vector<double>? expected, Matrix<double> covariance)
    {
        var factor = covariance.Cholesky();
        var left = expected is null ? _deviations : _deviations - expected;
        var distance = left * factor.Solve(left);
        return (-0.5 * factor.DeterminantLn) - (0.5 * (Freedom + Cells.Length) * Math.Log(1 + (distance / Freedom)));
    }

    /// <summary>Logarithm of a sum of which the logarithms are given: likelihoods of a whole strip would vanish as plain numbers.</summary>
    public static double LogSum(IReadOnlyCollection<double> logs)
    {
        var largest = logs.Max();
        return double.IsNegativeInfinity(largest) ? largest : largest + Math.Log(logs.Sum(l => Math.Exp(l - largest)));
    }
}

/// <summary>One deviation of the strip.</summary>
/// <param name="Aim">The aim of the cell.</param>
/// <param name="Deviation">Deviation from aim.</param>
/// <param name="Variance">Variance of reading strip and aim.</param>
internal sealed record EvidenceCell(string PatchKey, string PatchName, Channel Channel, double Aim, double Deviation, double Variance)
{
    /// <summary>Where the cell stands on the scale of exposure, D-min 0 and D-max 1; the yellow patch is dense in blue only.</summary>
    public double Place => PatchKey.ToLowerInvariant() switch
    {
        "dmin" => 0,
        "hd" => 0.7,
        "dmax" => 1,
        "yellow" => Channel == Channel.Blue ? 1 : 0.35,
        _ => 0.35,
    };
}

/// <summary>One hypothesis, weighed.</summary>
/// <param name="Of">What would be at work: one possibility, or two at once.</param>
/// <param name="LogPrior">Logarithm of how probable it is before looking.</param>
/// <param name="Log">Logarithm of its marginal likelihood, sizes integrated out.</param>
internal sealed record Candidate(ImmutableArray<Possibility> Of, double LogPrior, double Log)
{
    /// <summary>The most probable size of each, in units of the size often met; 1 where there is no such unit.</summary>
    public ImmutableArray<double> Sizes { get; init; } = [1];

    /// <summary>What it makes of each cell; null where it may be anything.</summary>
    public Vector<double>? Expected { get; init; }

    /// <summary>Standard deviation of how far that may be out, cell by cell.</summary>
    public Vector<double>? Slack { get; init; }

    /// <summary>What it would be in this strip, in a sentence; empty where the name says all.</summary>
    public string Detail { get; init; } = "";
}

using Acquire.Analysis.Statistics;
using MathNet.Numerics.LinearAlgebra;

namespace Acquire.Analysis.Causes;

/// <summary>The deviations of one strip and how they scatter together; weighs each fault
/// by its marginal likelihood, its size integrated out.</summary>
internal sealed class Evidence
{
    /// <summary>Sizes of a signature are rough: each patch may move this much more or less than stated, as a share.</summary>
    private const double Roughness = 0.25;

    private static readonly ImmutableArray<(double Size, double LogWeight)> Sizes = Grid();

    private readonly double[] _deviations;
    private readonly Matrix<double> _covariance;

    public Evidence(ImmutableArray<EvidenceCell> cells, NaturalScatter scatter)
    {
        Cells = cells;
        _deviations = [.. cells.Select(c => c.Deviation)];
        _covariance = Matrix<double>.Build.Dense(cells.Length, cells.Length, (i, j) =>
        {
            // What moves a run moves all its patches, so their deviations are not independent and must not count one by one.
            var run = scatter.Run * NaturalScatter.ShareOf(cells[i].PatchKey) * scatter.Run * NaturalScatter.ShareOf(cells[j].PatchKey);
            return run + (i == j ? cells[i].Variance + (scatter.Own * scatter.Own) : 0);
        });
    }

    public ImmutableArray<EvidenceCell> Cells { get; }

    /// <summary>Logarithm of the likelihood when nothing happened.</summary>
    public double LogOfNothing() => LogDensity(_deviations, _covariance);

    /// <summary>Standard deviation of one deviation when nothing happened.</summary>
    public double ScatterOf(int cell) => Math.Sqrt(_covariance[cell, cell]);

    /// <summary>Logarithm of the marginal likelihood of a fault, and its most probable size.</summary>
    public (double Log, double Size) Weigh(FaultSignature signature)
    {
        double[] direction = [.. Cells.Select(c => signature.Size(c.PatchKey, c.Channel))];
        var logs = new double[Sizes.Length];
        var left = new double[direction.Length];
        for (var k = 0; k < Sizes.Length; k++)
        {
            var covariance = _covariance.Clone();
            for (var i = 0; i < direction.Length; i++)
            {
                var moved = Sizes[k].Size * direction[i];
                left[i] = _deviations[i] - moved;
                // Grows with the size, or a large fault would be refused for a patch that moves a little otherwise than its row says.
                covariance[i, i] += Roughness * moved * Roughness * moved;
            }

            logs[k] = Sizes[k].LogWeight + LogDensity(left, covariance);
        }

        var largest = logs.Max();
        return (largest + Math.Log(logs.Sum(l => Math.Exp(l - largest))), Sizes[Array.IndexOf(logs, largest)].Size);
    }

    /// <summary>What the cause makes of a cell, and how far that is out by.</summary>
    public static double RoughnessOf(double expected) => Roughness * Math.Abs(expected);

    private static double LogDensity(double[] x, Matrix<double> covariance) =>
        new MixturePart(0, new double[x.Length], covariance, direction: null, scale: 1).LogDensity(x);

    /// <summary>Sizes from a fifth to five times the usual, evenly on a logarithmic scale with weights that
    /// fall off on either side (log-normal, a factor of two).</summary>
    private static ImmutableArray<(double Size, double LogWeight)> Grid()
    {
        const int Nodes = 25;
        // Half the usual size and twice that are taken as equally likely, so sizes are even by their ratio.
        var nodes = Enumerable.Range(0, Nodes).Select(i => Math.Log(0.2) + (Math.Log(25) * i / (Nodes - 1))).ToList();
        var weights = nodes.Select(x => Math.Exp(-0.5 * x * x / (Math.Log(2) * Math.Log(2)))).ToList();
        return [.. nodes.Zip(weights, (x, w) => (Math.Exp(x), Math.Log(w / weights.Sum())))];
    }
}

/// <summary>One deviation of the strip.</summary>
/// <param name="Deviation">Deviation from aim.</param>
/// <param name="Variance">Variance of reading strip and aim.</param>
internal sealed record EvidenceCell(string PatchKey, string PatchName, Channel Channel, double Deviation, double Variance);

/// <summary>What strips of a process in order scatter by from run to run, beside their reading.</summary>
/// <param name="Run">Standard deviation of what moves all colours together, at LD; denser patches move half as much again, D-min a quarter
/// as much. Small tanks by hand scatter 0.01 to 0.03 (common practice, no source).</param>
/// <param name="Own">Standard deviation of what each patch and channel does by itself.</param>
public sealed record NaturalScatter(double Run = 0.012, double Own = 0.004)
{
    /// <summary>How much of <see cref="Run"/> a patch takes part in.</summary>
    public static double ShareOf(string patchKey)
    {
        return patchKey.ToLowerInvariant() switch
        {
            "dmin" => 0.25,
            "hd" or "dmax" or "yellow" => 1.5,
            _ => 1,
        };
    }
}

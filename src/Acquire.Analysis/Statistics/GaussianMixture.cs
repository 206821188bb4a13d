using MathNet.Numerics;
using MathNet.Numerics.LinearAlgebra;

namespace Acquire.Analysis.Statistics;

/// <summary>What a hypothesis expects the instrument to show: the marginal likelihood in closed form.</summary>
/// <remarks>Rasmussen and Williams, <i>Gaussian Processes for Machine Learning</i>, equation 2.30, for each part.</remarks>
internal sealed class GaussianMixture(ImmutableArray<MixturePart> parts)
{
    /// <summary>What the logarithm of the density exceeds nowhere.</summary>
    public double LogBound { get; } = LogSum([.. parts.Select(p => p.LogBound)]);

    /// <summary>Logarithm of the density of these values.</summary>
    public double LogDensity(double[] values)
    {
        var logs = new double[parts.Length];
        for (var i = 0; i < logs.Length; i++)
        {
            logs[i] = parts[i].LogDensity(values);
        }

        return LogSum(logs);
    }

    private static double LogSum(double[] logs)
    {
        var largest = logs.Max();
        // Less the largest: the density of a whole strip vanishes as a plain number, and so would every ratio of two.
        return double.IsNegativeInfinity(largest) ? largest : largest + Math.Log(logs.Sum(l => Math.Exp(l - largest)));
    }
}

/// <summary>One part of a mixture: y ~ N(mean, covariance), or y = mean + α · direction + noise
/// with α half-normal, since faults have a direction.</summary>
internal sealed class MixturePart
{
    private const int MostOnStack = 64;
    private readonly double _logConstant;
    private readonly double[] _mean;
    private readonly double[] _factor;
    private readonly double[]? _direction;
    private readonly double _precision;

    /// <summary>States a part.</summary>
    /// <param name="logWeight">Logarithm of its weight.</param>
    /// <param name="mean">Mean, n long.</param>
    /// <param name="covariance">n × n, positive definite.</param>
    /// <param name="direction">Direction of the fault; null for a plain normal part.</param>
    /// <param name="scale">Scale of the half-normal α, above 0.</param>
    public MixturePart(double logWeight, double[] mean, Matrix<double> covariance, double[]? direction, double scale)
    {
        _mean = mean;
        var factor = covariance.Cholesky().Factor;
        // Rows packed one after another: a strip in hand is weighed against hundreds of such parts after every read.
        _factor = new double[mean.Length * (mean.Length + 1) / 2];
        _logConstant = logWeight - (mean.Length / 2.0 * Math.Log(2 * Math.PI));
        for (int i = 0, at = 0; i < mean.Length; i++)
        {
            for (var k = 0; k <= i; k++)
            {
                _factor[at++] = factor.At(i, k);
            }

            _logConstant -= Math.Log(factor.At(i, i));
        }

        LogBound = _logConstant;
        if (direction is not null)
        {
            _direction = new double[direction.Length];
            Solve(direction, _direction);
            _precision = (1 / (scale * scale)) + Dot(_direction, _direction);
            _logConstant += Math.Log(2) - Math.Log(scale) - (0.5 * Math.Log(_precision));
        }
    }

    /// <summary>What the logarithm of weight times density exceeds nowhere: the
    /// peak without the fault, whose sizes only share it out.</summary>
    public double LogBound { get; }

    /// <summary>Logarithm of weight times density at y.</summary>
    /// <remarks>∫₀^∞ N(r; αs, A) 2 N(α; 0, σ²) dα = 2 N(r; 0, A) (1 + σ² s'A⁻¹s)^−½
    /// exp(b²/2p) Φ(b/√p), with b = s'A⁻¹r and p = 1/σ² + s'A⁻¹s.</remarks>
    public double LogDensity(double[] y)
    {
        Span<double> solved = y.Length <= MostOnStack ? stackalloc double[y.Length] : new double[y.Length];
        for (var i = 0; i < y.Length; i++)
        {
            solved[i] = y[i] - _mean[i];
        }

        Solve(solved, solved);
        var log = _logConstant - (0.5 * Dot(solved, solved));
        if (_direction is null)
        {
            return log;
        }

        var b = Dot(_direction, solved);
        return log + (b * b / (2 * _precision)) + LogNormalTail(b / Math.Sqrt(_precision));
    }

    /// <summary>log Φ(x), by the first term of its asymptotic series where Φ would vanish.</summary>
    internal static double LogNormalTail(double x) => x < -30
        ? (-x * x / 2) - Math.Log(-x * Math.Sqrt(2 * Math.PI))
        : Math.Log(SpecialFunctions.Erfc(-x / Constants.Sqrt2) / 2);

    // Forward substitution, row by row.
    private void Solve(ReadOnlySpan<double> right, Span<double> x)
    {
        for (int i = 0, at = 0; i < right.Length; i++)
        {
            var sum = right[i];
            for (var k = 0; k < i; k++)
            {
                sum -= _factor[at++] * x[k];
            }

            x[i] = sum / _factor[at++];
        }
    }

    private static double Dot(ReadOnlySpan<double> left, ReadOnlySpan<double> right)
    {
        var sum = 0.0;
        for (var i = 0; i < left.Length; i++)
        {
            sum += left[i] * right[i];
        }

        return sum;
    }
}

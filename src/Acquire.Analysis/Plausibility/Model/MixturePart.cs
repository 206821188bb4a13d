using MathNet.Numerics;
using MathNet.Numerics.LinearAlgebra;

namespace Acquire.Analysis.Plausibility.Model;

/// <summary>
/// One part of a mixture: y ~ N(mean, covariance), or y = mean + α · direction + noise with α half-normal, since faults have a direction.
/// </summary>
internal sealed class MixturePart
{
    private readonly double _logConstant;
    private readonly double[] _mean;
    private readonly double[][] _factor;
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
        _factor = covariance.Cholesky().Factor.ToRowArrays();
        _logConstant = logWeight - (mean.Length / 2.0 * Math.Log(2 * Math.PI)) - Enumerable.Range(0, mean.Length).Sum(i => Math.Log(_factor[i][i]));
        if (direction is not null)
        {
            _direction = Solve(direction);
            _precision = (1 / (scale * scale)) + Dot(_direction, _direction);
            _logConstant += Math.Log(2) - Math.Log(scale) - (0.5 * Math.Log(_precision));
        }
    }

    /// <summary>Logarithm of weight times density at y.</summary>
    /// <remarks>
    /// ∫₀^∞ N(r; αs, A) 2 N(α; 0, σ²) dα = 2 N(r; 0, A) (1 + σ² s'A⁻¹s)^−½ exp(b²/2p) Φ(b/√p), with b = s'A⁻¹r and p = 1/σ² + s'A⁻¹s.
    /// </remarks>
    public double LogDensity(double[] y)
    {
        var residual = new double[y.Length];
        for (var i = 0; i < y.Length; i++)
        {
            residual[i] = y[i] - _mean[i];
        }

        var solved = Solve(residual);
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

    private double[] Solve(double[] right)
    {
        var x = new double[right.Length];
        for (var i = 0; i < x.Length; i++)
        {
            var (row, sum) = (_factor[i], right[i]);
            for (var k = 0; k < i; k++)
            {
                sum -= row[k] * x[k];
            }

            x[i] = sum / row[i];
        }

        return x;
    }

    private static double Dot(double[] left, double[] right)
    {
        var sum = 0.0;
        for (var i = 0; i < left.Length; i++)
        {
            sum += left[i] * right[i];
        }

        return sum;
    }
}

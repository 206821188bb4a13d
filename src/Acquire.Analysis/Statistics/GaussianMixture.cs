using MathNet.Numerics;
using MathNet.Numerics.LinearAlgebra;

namespace Acquire.Analysis.Statistics;

/// <summary>What a hypothesis expects the instrument to show: the marginal likelihood in closed form.</summary>
/// <remarks>Rasmussen and Williams, <i>Gaussian Processes for Machine Learning</i>, equation 2.30, for each part.</remarks>
internal sealed class GaussianMixture(ImmutableArray<MixturePart> parts)
{
    /// <summary>What the logarithm of the density exceeds nowhere.</summary>
    public double LogBound { get; } = LogSum([.. parts.Select(p => p.LogBound)]);

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
        : this(logWeight, mean, Packed(mean.Length, covariance.At), direction, scale)
    {
    }

    /// <summary>States a part by the lower half of its covariance.</summary>
    /// <param name="logWeight">Logarithm of its weight.</param>
    /// <param name="mean">Mean, n long.</param>
    /// <param name="covariance">Rows of the lower half one after another, the diagonal included; it is taken over and changed.</param>
    /// <param name="direction">Direction of the fault; null for a plain normal part.</param>
    /// <param name="scale">Scale of the half-normal α, above 0.</param>
    /// <exception cref="ArgumentException">The covariance is not positive definite.</exception>
    public MixturePart(double logWeight, double[] mean, double[] covariance, double[]? direction, double scale)
    {
        _mean = mean;
        _factor = Factor(covariance, mean.Length);
        _logConstant = logWeight - (mean.Length / 2.0 * Math.Log(2 * Math.PI));
        for (int i = 0, at = 0; i < mean.Length; i++, at += i + 1)
        {
            _logConstant -= Math.Log(_factor[at]);
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

    /// <summary>The lower half of a symmetric matrix, its rows one after another.</summary>
    public static double[] Packed(int size, Func<int, int, double> of)
    {
        var packed = new double[size * (size + 1) / 2];
        for (int i = 0, at = 0; i < size; i++)
        {
            for (var j = 0; j <= i; j++)
            {
                packed[at++] = of(i, j);
            }
        }

        return packed;
    }

    // Cholesky in place. A strip in hand is weighed against thousands of parts of some fifteen values, too small for a library's matrices:
    // making those took most of the time.
    private static double[] Factor(double[] packed, int size)
    {
        for (int i = 0, row = 0; i < size; row += ++i)
        {
            for (int j = 0, other = 0; j <= i; other += ++j)
            {
                var sum = packed[row + j];
                for (var k = 0; k < j; k++)
                {
                    sum -= packed[row + k] * packed[other + k];
                }

                packed[row + j] = j < i ? sum / packed[other + j]
                    : sum > 0 ? Math.Sqrt(sum) : throw new ArgumentException("The covariance is not positive definite.", nameof(packed));
            }
        }

        return packed;
    }

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

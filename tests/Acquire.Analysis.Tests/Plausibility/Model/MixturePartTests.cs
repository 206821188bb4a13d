using Acquire.Analysis.Statistics;
using MathNet.Numerics;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.LinearAlgebra;

namespace Acquire.Analysis.Tests.Plausibility.Model;

public class MixturePartTests
{
    [Theory]
    [InlineData(-0.4)]
    [InlineData(0)]
    [InlineData(1.7)]
    [Trait(
        "Source",
        "A. Azzalini, Scandinavian Journal of Statistics 12 (1985) 171: normal plus half-normal is 2/ω φ(x/ω) Φ(αx/ω), ω² = σ² + τ², α "
        + "= σ/τ")]
    public void Fault_of_one_direction_in_one_value_is_the_skew_normal_distribution(double x)
    {
        const double Sigma = 1.3;
        const double Tau = 0.7;
        var omega = Math.Sqrt((Sigma * Sigma) + (Tau * Tau));
        var expected = Math.Log(2 / omega * Normal.PDF(0, 1, x / omega) * Normal.CDF(0, 1, Sigma / Tau * x / omega));
        var part = new MixturePart(0, [0], Matrix<double>.Build.Dense(1, 1, Tau * Tau), [1], Sigma);

        Assert.Equal(expected, part.LogDensity([x]), 1e-12);
    }

    [Fact]
    [Trait("Source", "The bivariate normal density in closed form, any textbook: exp(−(x² − 2ρxy + y²)/(2(1 − ρ²))) / (2π√(1 − ρ²))")]
    public void Plain_part_in_two_values_is_the_bivariate_normal_density() =>
        Gen.Select(Gen.Double[-2, 2], Gen.Double[-2, 2], Gen.Double[-0.95, 0.95]).Sample((x, y, rho) =>
        {
            var covariance = Matrix<double>.Build.DenseOfArray(new[,] { { 1, rho }, { rho, 1 } });
            var rest = 1 - (rho * rho);
            var expected = -(((x * x) - (2 * rho * x * y) + (y * y)) / (2 * rest)) - Math.Log(2 * Math.PI * Math.Sqrt(rest));

            Assert.Equal(
                expected + Math.Log(0.3), new MixturePart(Math.Log(0.3), [1, -1], covariance, null, 1).LogDensity([x + 1, y - 1]), 1e-9);
        });

    [Fact]
    [Trait("Source", "Numerical integration over the amplitude, composite Gauss-Legendre rule of MathNet.Numerics")]
    public void Fault_of_one_direction_is_the_integral_over_its_amplitude() =>
        Gen.Select(Gen.Double[-0.15, 0.15].Array[3], Gen.Double[-0.1, 0.1].Array[3], Gen.Double[0.3, 3]).Sample(
            (y, direction, scale) =>
            {
                var covariance = Matrix<double>.Build.DenseOfArray(new[,] { { 4e-4, 1e-4, 0 }, { 1e-4, 9e-4, 2e-4 }, { 0, 2e-4, 6e-4 } });
                var plain = new MixturePart(0, new double[3], covariance, null, 1);
                double At(double amplitude) => 2 * Normal.PDF(0, scale, amplitude)
                    * Math.Exp(plain.LogDensity([.. y.Zip(direction, (v, d) => v - (amplitude * d))]));
                var expected = Enumerable.Range(0, 200).Sum(i => Integrate.GaussLegendre(At, i * scale / 20, (i + 1) * scale / 20, 20));

                Assert.Equal(Math.Log(expected), new MixturePart(0, new double[3], covariance, direction, scale).LogDensity(y), 1e-6);
            },
            iter: 60);

    [Fact]
    public void Density_never_exceeds_its_bound() =>
        Gen.Select(Gen.Double[-1, 1].Array[3], Gen.Double[-1, 1].Array[3]).Sample((y, direction) =>
        {
            var part = new MixturePart(-1, new double[3], Matrix<double>.Build.DenseIdentity(3) * 0.04, direction, 2);
            Assert.True(part.LogDensity(y) <= part.LogBound + 1e-9);
        });

    [Theory]
    [Trait("Source", "log Φ(−35) = −616.975101 by the asymptotic series of Abramowitz and Stegun 26.2.12 with three terms")]
    [InlineData(-35, -616.9751, 0.001)]
    [InlineData(0, -0.693147, 1e-6)]
    public void Tail_of_the_normal_distribution_does_not_vanish(double x, double expected, double tolerance) =>
        Assert.Equal(expected, MixturePart.LogNormalTail(x), tolerance);
}

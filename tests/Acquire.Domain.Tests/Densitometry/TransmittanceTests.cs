using static Acquire.Domain.Tests.Assertions;

namespace Acquire.Domain.Tests.Densitometry;

public class TransmittanceTests
{
    [Theory]
    [InlineData(1, 0)]
    [InlineData(0.5, 0.301030)]
    [InlineData(0.1, 1)]
    [InlineData(0.01, 2)]
    [InlineData(0.001, 3)]
    [InlineData(0.00025, 3.602060)]
    [Trait("Source", "Definition D = −log10 τ (ISO 5-1, ISO 5-2; value from memory for the clause)")]
    public void Density_is_the_negative_logarithm_of_transmittance(double transmittance, double density)
    {
        Assert.Equal(density, Transmittance.ToDensity(transmittance), 5e-7);
        Assert.Equal(transmittance, Transmittance.FromDensity(density), 5e-7);
    }

    [Fact]
    public void Density_of_full_transmittance_is_a_plain_zero() => Assert.False(double.IsNegative(Transmittance.ToDensity(1)));

    [Fact]
    public void Density_to_transmittance_and_back_is_the_same() => Gen.Double[0, 6].Sample(density =>
        Assert.Equal(density, Transmittance.ToDensity(Transmittance.FromDensity(density)), 1e-12));

    [Theory]
    [InlineData(0)]
    [InlineData(-0.1)]
    [InlineData(1.001)]
    [InlineData(double.NaN)]
    public void Impossible_transmittance_is_refused(double transmittance) =>
        Refused("A transmittance lies above 0 and up to 1", () => Transmittance.ToDensity(transmittance));

    [Fact]
    public void Endless_density_is_refused() => Refused("finite", () => Transmittance.FromDensity(double.PositiveInfinity));
}

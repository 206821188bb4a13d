using static Acquire.Domain.Tests.Assertions;

namespace Acquire.Domain.Tests.Densitometry;

public class DensityTests
{
    private static readonly Gen<Density> Densities = Gen.Select(
        Gen.Int[-200, 1000],
        Gen.Int[2, 6], (hundredths, decimals) => new Density((hundredths / 100m) + new decimal(0, 0, 0, false, (byte)decimals)));

    [Theory]
    [InlineData("0.26", 2, 0.01)]
    [InlineData("0.260", 3, 0.001)]
    [InlineData("-.01", 2, 0.01)]
    [InlineData(" +1.5 ", 1, 0.1)]
    [InlineData("3", 0, 1)]
    [InlineData("0.000001", 6, 0.000001)]
    public void Density_keeps_the_decimals_shown(string text, int decimals, double resolution)
    {
        Assert.True(Density.TryParse(text, out var density));
        Assert.Equal((decimals, resolution), (density.Decimals, density.Resolution));
    }

    [Theory]
    [InlineData(null)]
    [InlineData("")]
    [InlineData("OL")]
    [InlineData("0,26")]
    [InlineData("1e-2")]
    [InlineData("0.2.6")]
    [InlineData("NaN")]
    [InlineData("10.01")]
    [InlineData("-2.01")]
    [InlineData("0.0000001")]
    [InlineData("99999999999999999999999999999999")]
    public void Text_that_is_no_density_is_not_parsed(string? text)
    {
        Assert.False(Density.TryParse(text, out var density));
        Assert.Equal(default, density);
    }

    [Fact]
    public void Parsing_takes_any_text_without_throwing() => Gen.String[Gen.Char["0123456789.-+, eE\0é"], 0, 40].Sample(
        text => !Density.TryParse(text, out var density) || Density.IsPossible(density.Value));

    [Fact]
    public void Density_printed_and_parsed_is_the_same_with_its_decimals() => Densities.Sample(density =>
    {
        Assert.True(Density.TryParse(density.ToString(), out var parsed));
        Assert.Equal((density, density.Decimals), (parsed, parsed.Decimals));
    });

    [Theory]
    [InlineData("-2")]
    [InlineData("10")]
    public void Bounds_are_inside(string text) => Assert.True(Density.TryParse(text, out _));

    [Fact]
    public void Impossible_density_is_refused_with_what_was_expected() =>
        Refused("10.01 is no density; expected -2 to 10 with at most 6 decimals.", () => new Density(10.01m));

    [Fact]
    public void Order_is_that_of_the_values() => Gen.Select(Densities, Densities).Sample((a, b) =>
        (a < b) == (a.Value < b.Value) && (a > b) == (a.Value > b.Value) && (a <= b) == (a.Value <= b.Value)
        && (a >= b) == (a.Value >= b.Value) && Math.Sign(a.CompareTo(b)) == Math.Sign(a.Value.CompareTo(b.Value)));
}

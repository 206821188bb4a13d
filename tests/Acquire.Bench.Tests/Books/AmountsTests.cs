using Acquire.Bench.Books;
using CsCheck;

namespace Acquire.Bench.Tests.Books;

public sealed class AmountsTests
{
    [Theory]
    [InlineData("1L", 1)]
    [InlineData("0.5 l", 0.5)]
    [InlineData("500ml", 0.5)]
    [InlineData("300 mL", 0.3)]
    [InlineData("25cl", 0.25)]
    [InlineData("2.5 litres", 2.5)]
    public void Volume_is_read_in_litres(string text, double litres) => Assert.Equal(litres, Amounts.Volume(text), 12);

    [Theory]
    [InlineData("1")]
    [InlineData("1,5L")]
    [InlineData("L")]
    [InlineData("half")]
    [InlineData("1e3L")]
    public void Volume_without_number_or_unit_is_refused(string text) =>
        Assert.Contains("such as 1L", Assert.Throws<BenchException>(() => Amounts.Volume(text)).Message, StringComparison.Ordinal);

    [Theory]
    [InlineData("0L")]
    [InlineData("-300ml")]
    public void Volume_that_is_not_above_zero_is_refused(string text) =>
        Assert.Contains("above zero", Assert.Throws<BenchException>(() => Amounts.Volume(text)).Message, StringComparison.Ordinal);

    [Theory]
    [InlineData("135-36", "135-36", 1)]
    [InlineData("2x135-36", "135-36", 2)]
    [InlineData("3 × 120", "120", 3)]
    [InlineData("2*220", "220", 2)]
    [InlineData("4x5", "4x5", 1)]
    [InlineData("6x4x5", "4x5", 6)]
    [InlineData("2X8x10in", "8x10", 2)]
    [InlineData("strip", "strip", 1)]
    [InlineData("2x100ft", "100ft", 2)]
    public void Films_are_read_as_format_and_count(string text, string format, int count) =>
        Assert.Equal(FilmCount.Of(FilmFormat.Find(format)!, count), Amounts.Films(text));

    [Theory]
    [InlineData("0.2m2", 0.2)]
    [InlineData("0.2 m²", 0.2)]
    [InlineData("80in2", 0.0516128)]
    [InlineData("160 in²", 0.1032256)]
    public void Area_is_read_in_square_metres(string text, double area) => Assert.Equal(area, Amounts.Films(text).Area, 12);

    [Theory]
    [InlineData("-0.2m2")]
    [InlineData("0m2")]
    [InlineData("-2x120")]
    [InlineData("0x120")]
    public void Area_or_count_that_is_not_above_zero_is_refused(string text) =>
        Assert.Throws<ImpossibleValueException>(() => Amounts.Films(text));

    [Theory]
    [InlineData("126")]
    [InlineData("3x")]
    [InlineData("0.2")]
    [InlineData("99999999999x120")]
    [InlineData("")]
    public void Films_that_are_none_are_refused_with_the_formats(string text) =>
        Assert.Contains("135-36, 135-24", Assert.Throws<BenchException>(() => Amounts.Films(text)).Message, StringComparison.Ordinal);

    [Fact]
    public void Any_text_is_films_above_zero_or_refused() => Gen.OneOf(
        Gen.String,
        Gen.OneOf("2", "x", "120", "135-36", "4x5", "m2", "in2", "-", ".", " ", "9999999999").Array[0, 5].Select(string.Concat))
            .Sample(text =>
    {
        try
        {
            Assert.True(Amounts.Films(text).Area > 0);
        }
        catch (Exception e) when (e is BenchException or ImpossibleValueException)
        {
            Assert.NotEmpty(e.Message);
        }
    });
}

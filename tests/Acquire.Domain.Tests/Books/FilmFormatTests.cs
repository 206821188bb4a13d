namespace Acquire.Domain.Tests.Books;

public sealed class FilmFormatTests
{
    /// <summary>One roll is 80 in² = 0.0516 m², the unit of replenishment articles for black-and-white and colour negative.</summary>
    [Fact]
    [Trait("Source", "1 in = 25.4 mm exactly (international yard and pound agreement, 1959); the unit itself is common practice")]
    public void Roll_is_80_square_inches() => Assert.Equal(0.0516128, FilmFormat.Roll, 9);

    /// <summary>
    /// Sheets, strip and length are calculated from their dimensions; an 8 × 10 in sheet and four of 4 × 5 in are one roll.
    /// </summary>
    [Theory]
    [InlineData("8x10", 0.0516128)]
    [InlineData("4x5", 0.0129032)]
    [InlineData("5x7", 0.0225806)]
    [InlineData("strip", 0.0084)]
    [InlineData("100ft", 1.0668)]
    public void Area_follows_from_the_dimensions(string key, double area) => Assert.Equal(area, FilmFormat.Find(key)!.Area, 7);

    /// <summary>Value from memory, no source: 135-36 is 0.053 to 0.057 m² by maker, 135-24 0.040, 120 0.050, 220 0.10.</summary>
    [Theory]
    [InlineData("135-36", 0.053, 0.057)]
    [InlineData("135-24", 0.038, 0.042)]
    [InlineData("120", 0.049, 0.052)]
    [InlineData("220", 0.098, 0.104)]
    public void Area_of_a_roll_film_is_a_common_value_and_says_so(string key, double least, double most)
    {
        var format = FilmFormat.Find(key)!;

        Assert.InRange(format.Area, least, most);
        Assert.Contains("from memory", format.Basis, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("4X5")]
    [InlineData(" 4x5in ")]
    [InlineData("4×5 in")]
    public void Format_is_found_as_people_write_it(string key) => Assert.Equal("4x5", FilmFormat.Find(key)?.Key);

    [Fact]
    public void Format_that_is_none_is_not_found() => Assert.Null(FilmFormat.Find("126"));
}

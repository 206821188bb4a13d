namespace Acquire.Domain.Tests.Books;

public sealed class LineStateTests
{
    private static readonly LineMethod First =
        new(BooksGens.Stamp(10), BooksGens.Line.Id, "lift every 15 s", 37.8, TimeSpan.FromSeconds(195));
    private static readonly LineMethod Warmer = new(BooksGens.Stamp(50), BooksGens.Line.Id, null, 38.2, null);

    [Theory]
    [InlineData(9, null, null)]
    [InlineData(10, 37.8, "lift every 15 s")]
    [InlineData(49, 37.8, "lift every 15 s")]
    [InlineData(50, 38.2, "lift every 15 s")]
    public void Method_in_force_is_that_of_the_moment_and_keeps_what_was_not_changed(int minute, double? temperature, string? agitation)
    {
        var state = BooksGens.Books(Warmer, First).At(BooksGens.Line, BooksGens.At(minute));

        Assert.Equal((temperature, agitation), (state.Temperature, state.Agitation));
        Assert.Equal(agitation is null ? null : TimeSpan.FromSeconds(195), state.Time);
    }

    [Fact]
    public void Area_and_last_use_are_those_of_the_line()
    {
        var here = new FilmUse(BooksGens.Stamp(20), [FilmCount.OfArea(0.3)], [], BooksGens.Line.Id);
        var elsewhere = new FilmUse(BooksGens.Stamp(30), [FilmCount.OfArea(0.5)], [BooksGens.Bottle.Id], null);
        var state = BooksGens.Books(here, elsewhere).At(BooksGens.Line, BooksGens.At(100));

        Assert.Equal((0.3, BooksGens.At(20)), (state.AreaUsed, state.LastUsed));
    }
}

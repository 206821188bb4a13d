using Acquire.Bench.Books;

namespace Acquire.Bench.Tests.Books;

public sealed class BookNamesTests
{
    [Theory]
    [InlineData("D7")]
    [InlineData("d7")]
    [InlineData(" d7 ")]
    public void Bottle_is_found_in_any_case(string name) =>
        Assert.Same(SomeBooks.D7, BookNames.Bottle(SomeBooks.Books(), name, SomeBooks.At(5)));

    [Fact]
    public void Beginning_that_fits_one_only_is_enough()
    {
        Assert.Same(SomeBooks.Tank, BookNames.Line(SomeBooks.Books(), "DIP"));
        Assert.Same(SomeBooks.B4, BookNames.Bottle(SomeBooks.Books(), "b", SomeBooks.At(5)));
        Assert.Same(SomeBooks.Developer, BookNames.Solution(SomeBooks.Books(), "dev"));
    }

    [Fact]
    public void Beginning_that_fits_more_is_refused_with_those_it_fits() => Assert.Contains(
        "D7, D8",
        Assert.Throws<BenchException>(() => BookNames.Bottle(SomeBooks.Books(), "D", SomeBooks.At(5))).Message, StringComparison.Ordinal);

    [Theory]
    [InlineData("dip tnk", "did you mean dip tank?")]
    [InlineData("tank", "did you mean dip tank?")]
    [InlineData("kitchen", "the books have dip tank, bench-top machine")]
    public void Name_that_is_none_is_refused_with_what_looks_like_it(string name, string said) =>
        Assert.Contains(
            said, Assert.Throws<BenchException>(() => BookNames.Line(SomeBooks.Books(), name)).Message, StringComparison.Ordinal);

    [Fact]
    public void Of_bottles_of_one_name_the_one_in_use_at_the_moment_is_meant()
    {
        var second = new Bottle(SomeBooks.Stamp(200), "d7", SomeBooks.Developer.Id, 1, new BottleStorage());
        var books = SomeBooks.Books(new BottleEvent(SomeBooks.Stamp(100), SomeBooks.D7.Id, BottleEventKind.Discarded), second);

        Assert.Same(SomeBooks.D7, BookNames.Bottle(books, "D7", SomeBooks.At(1)));
        Assert.Same(SomeBooks.D7, BookNames.Bottle(books, "D7", SomeBooks.At(50)));
        Assert.Same(SomeBooks.D7, BookNames.Bottle(books, "D7", SomeBooks.At(150)));
        Assert.Same(second, BookNames.Bottle(books, "D7", SomeBooks.At(201)));
    }

    [Fact]
    public void Near_names_come_the_most_alike_first() =>
        Assert.Equal(["D17", "D7"], BookNames.Near("d17", ["B4", "D7", "D17", "bleach"]));
}

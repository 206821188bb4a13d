namespace Acquire.Tests.Commands.Books;

public sealed class UseCommandTests : BooksProgram
{
    [Fact]
    public async Task Use_of_the_bottle_and_line_at_hand_is_two_words()
    {
        await FillAsync();
        await DoAsync("use", "2x135-36", "--bottle", "D7", "--line", "dip", "--at", "19:30");
        var (output, error) = await DoAsync("use", "6x4x5", "0.2m2");

        Assert.Contains("Taken, since none was named: bottle D7, line dip tank.", error, StringComparison.Ordinal);
        Assert.StartsWith(
            "2026-11-25 20:40  6 × 4x5 + film, 0.277 m² (5.4 rolls) through D7 in dip tank", output, StringComparison.Ordinal);
        Assert.Contains("mixed 12 days before, open 1 h, 0.387 m² (7.5 rolls) through 1 L", output, StringComparison.Ordinal);
        var bottle = await BottleAsync();
        Assert.Equal(0.11 + 0.2 + (6 * 20 * 0.0254 * 0.0254), bottle.GetProperty("areaM2").GetDouble(), 9);
        Assert.Equal(bottle.GetProperty("areaM2").GetDouble() / 0.0516128, bottle.GetProperty("rolls").GetDouble(), 9);
    }

    [Fact]
    public async Task Use_entered_late_counts_where_it_belongs()
    {
        await FillAsync();
        await DoAsync("use", "1x120", "--bottle", "D7");
        await DoAsync("use", "2x135-36", "--bottle", "D7", "--at", "yesterday 19:30");

        Assert.Equal(0.11, (await BottleAsync("--at", "yesterday 20:00")).GetProperty("areaM2").GetDouble(), 9);
        Assert.Equal(0.16, (await BottleAsync()).GetProperty("areaM2").GetDouble(), 9);
        Assert.Equal(0, (await BottleAsync("--at", "-3d")).GetProperty("areaM2").GetDouble());
        var late = (await JsonAsync("use", "list"))[0];
        Assert.Equal("2026-11-24T19:30:00+00:00", late.GetProperty("happenedAt").GetString());
        Assert.Equal("2026-11-25T20:40:00+00:00", late.GetProperty("enteredAt").GetString());
    }

    [Fact]
    public async Task Bottle_used_before_it_was_mixed_is_told_and_nothing_lost()
    {
        await FillAsync();
        var (_, error) = await DoAsync("use", "1x120", "--bottle", "D7", "--at", "2026-11-10");

        Assert.Contains("Bottle D7 was mixed on 2026-11-13 20:40, after this use (2026-11-10 12:00)", error, StringComparison.Ordinal);
        Assert.Equal(0.05, (await BottleAsync()).GetProperty("areaM2").GetDouble(), 9);
    }

    [Fact]
    public async Task Clock_set_back_is_told_and_nothing_lost()
    {
        await FillAsync();
        await DoAsync("use", "1x120", "--bottle", "D7");
        SetClock(Evening.AddDays(-4));
        var (_, error) = await DoAsync("use", "2x120", "--bottle", "D7");
        SetClock(Evening);

        Assert.Contains("The clock reads 2026-11-21 20:40, but an entry was made at 2026-11-25 20:40", error, StringComparison.Ordinal);
        Assert.Equal(0.15, (await BottleAsync()).GetProperty("areaM2").GetDouble(), 9);
    }

    [Fact]
    public async Task Same_use_twice_at_one_moment_is_told_and_undone_by_one_word()
    {
        await FillAsync();
        await DoAsync("use", "1x120", "--bottle", "D7", "--at", "19:30");
        var (_, error) = await DoAsync("use", "1x120", "--bottle", "D7", "--at", "19:30");
        Assert.Contains("in the books already", error, StringComparison.Ordinal);
        await DoAsync("undo");

        Assert.Equal(0.05, (await BottleAsync()).GetProperty("areaM2").GetDouble(), 9);
        var all = (await JsonAsync("event", "list", "--all")).EnumerateArray().Where(e => e.GetProperty("kind").GetString() == "film use")
            .ToList();
        Assert.Equal([null, "entered by mistake"], all.Select(e => e.GetProperty("withdrawn").GetString()));
    }

    [Theory]
    [InlineData("An area is above zero, not -0.2 m²", "-0.2m2")]
    [InlineData("An area is above zero, not 0 m²", "0m2")]
    [InlineData("not -2", "-2x120")]
    [InlineData("Formats: 135-36", "2x126")]
    public async Task Area_or_films_that_cannot_be_are_refused(string said, string films)
    {
        await FillAsync();

        Assert.Contains(said, await RefusedAsync("use", films, "--bottle", "D7"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Use_without_films_or_without_anything_to_go_through_is_refused()
    {
        Assert.Contains("Which bottle?", await RefusedAsync("use", "2x120"), StringComparison.Ordinal);
        await FillAsync();
        Assert.Contains("acquire use 2x135-36", await RefusedAsync("use"), StringComparison.Ordinal);
        Assert.Contains("did you mean D7?", await RefusedAsync("use", "120", "--bottle", "D77"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Use_takes_every_bottle_of_the_last_one_or_asks()
    {
        await FillAsync();
        await DoAsync("solution", "mix", "bleach4", "1L", "--kind", "bleach", "--at", "-2d");
        await DoAsync("bottle", "fill", "B4", "--at", "-2d");
        await DoAsync("use", "120", "--bottle", "D7", "--bottle", "B4", "--at", "-1d");
        await DoAsync("use", "120", "--at", "19:00");
        Assert.Equal(["D7", "B4"], (await JsonAsync("use", "list"))[1].GetProperty("bottles").EnumerateArray().Select(b => b.GetString()));

        await DoAsync("bottle", "discard", "D7", "--at", "19:30");
        Assert.Contains("Which bottles?", await RefusedAsync("use", "120"), StringComparison.Ordinal);
        Assert.Contains(
            "counts for the line only", (await DoAsync("use", "0.01m2", "--line", "dip", "--at", "19:40")).Error, StringComparison.Ordinal);
        await DoAsync("solution", "mix", "dev13", "1L", "--at", "20:00");
        await DoAsync("bottle", "fill", "D8", "--of", "dev13", "--at", "20:00");
        Assert.Contains("bottle D8, B4", (await DoAsync("use", "120")).Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Formats_say_where_their_areas_come_from()
    {
        var formats = (await JsonAsync("use", "formats")).EnumerateArray().ToList();

        Assert.All(formats, f => Assert.Matches("memory|calculated", f.GetProperty("basis").GetString()!));
        Assert.Contains("value from memory", (await DoAsync("use", "formats")).Out, StringComparison.Ordinal);
    }
}

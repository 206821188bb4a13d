namespace Acquire.Tests.Commands.Books;

public sealed class BottleCommandTests : BooksProgram
{
    [Fact]
    public async Task Bottle_filled_takes_the_last_mix_and_what_is_left_of_it()
    {
        await FillAsync();
        var bottle = await BottleAsync();

        Assert.Equal(
            ("dev12", "developer", "c41", "K77"), (Word("solution"), Word("solutionKind"), Word("process"), Word("concentrateLot")));
        Assert.Equal(("glass", "argon", 18.0), (Word("container"), Word("gas"), bottle.GetProperty("storageTemperature").GetDouble()));
        Assert.Equal((1.0, 1.0), (bottle.GetProperty("leftLitres").GetDouble(), bottle.GetProperty("fillShare").GetDouble()));
        Assert.Equal(12, bottle.GetProperty("ageDays").GetDouble(), 9);

        string? Word(string name) => bottle.GetProperty(name).GetString();
    }

    [Fact]
    public async Task Opened_poured_topped_up_and_stored_bottle_at_hand_needs_no_name()
    {
        await FillAsync();
        await DoAsync("bottle", "open", "--at", "yesterday 19:30");
        await DoAsync("bottle", "pour", "400ml");
        var (_, error) = await DoAsync("bottle", "top-up", "100ml");
        await DoAsync("bottle", "store", "--gas", "air");
        var bottle = await BottleAsync();

        Assert.Contains("bottle D7", error, StringComparison.Ordinal);
        Assert.Equal(0.7, bottle.GetProperty("leftLitres").GetDouble(), 9);
        Assert.Equal(0.3, bottle.GetProperty("headspaceLitres").GetDouble(), 9);
        Assert.Equal(("air", "glass"), (bottle.GetProperty("gas").GetString(), bottle.GetProperty("container").GetString()));
        Assert.Equal(2, bottle.GetProperty("openings").GetInt32());
        Assert.Equal(1 + (70 / 1440.0), bottle.GetProperty("openDays").GetDouble(), 9);
    }

    [Theory]
    [InlineData("D7", "300ml")]
    [InlineData("300ml", "D7")]
    public async Task Pour_takes_bottle_and_volume_in_either_order(string one, string other)
    {
        await FillAsync();
        await DoAsync("bottle", "pour", one, other);

        Assert.Equal(0.3, (await BottleAsync()).GetProperty("pouredLitres").GetDouble(), 9);
    }

    [Fact]
    public async Task Pour_of_more_than_there_is_is_kept_and_told()
    {
        await FillAsync();
        var (_, error) = await DoAsync("bottle", "pour", "D7", "1.3L");

        Assert.Contains("300 mL more was poured", error, StringComparison.Ordinal);
        Assert.Equal(0.3, (await BottleAsync()).GetProperty("overdrawnLitres").GetDouble(), 9);
    }

    [Theory]
    [InlineData("above zero", "bottle", "pour", "D7", "-300ml")]
    [InlineData("such as 1L", "bottle", "pour", "D7", "300")]
    [InlineData("did you mean D7?", "bottle", "open", "D17")]
    [InlineData("is in use", "bottle", "fill", "d7")]
    [InlineData("is in bottles already", "bottle", "fill", "D8")]
    [InlineData("Say what changed", "bottle", "store", "D7")]
    [InlineData("between -30 and 100", "bottle", "store", "D7", "--stored", "378")]
    [InlineData("no solution 'blix'", "bottle", "fill", "D8", "--of", "blix")]
    [InlineData("There is a mix dev12 already", "solution", "mix", "DEV12", "1L")]
    [InlineData("'soap' is none of", "solution", "mix", "dev13", "1L", "--kind", "soap")]
    [InlineData("is no time", "bottle", "open", "D7", "--at", "whenever")]
    public async Task What_cannot_be_is_refused_and_leaves_the_books_as_they_were(string said, params string[] arguments)
    {
        await FillAsync();

        Assert.Contains(said, await RefusedAsync(arguments), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Name_of_a_discarded_bottle_may_be_used_again_and_old_uses_stay_with_the_old_one()
    {
        await FillAsync();
        await DoAsync("use", "2x120", "--bottle", "D7", "--at", "-5d");
        await DoAsync("bottle", "discard", "D7", "--reason", "tired", "--at", "-2d");
        await DoAsync("solution", "mix", "dev13", "1L", "--at", "-1d");
        await DoAsync("bottle", "fill", "D7", "--at", "-1d");
        await DoAsync("use", "1x120", "--at", "-3d", "--bottle", "D7");

        Assert.Equal(0, (await BottleAsync()).GetProperty("areaM2").GetDouble());
        var old = (await JsonAsync("bottle", "show", "D7", "--at", "-3d")).GetProperty("state");
        Assert.Equal("dev12", old.GetProperty("solution").GetString());
        Assert.Equal(0.15, old.GetProperty("areaM2").GetDouble(), 9);
        Assert.Equal(1, (await JsonAsync("bottle", "list")).GetArrayLength());
        Assert.Equal(2, (await JsonAsync("bottle", "list", "--all")).GetArrayLength());
        Assert.Contains("tired", (await DoAsync("event", "list", "--all")).Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Books_that_are_empty_say_what_to_do_first()
    {
        Assert.Contains("acquire solution mix", (await DoAsync("bottle", "list")).Out, StringComparison.Ordinal);
        Assert.Contains("acquire solution mix", (await RunAsync("bottle", "fill", "D7")).Error, StringComparison.Ordinal);
        Assert.Contains("--process c41", (await RunAsync("solution", "mix", "dev", "1L")).Error, StringComparison.Ordinal);
        Assert.Contains("acquire bottle fill", (await RunAsync("bottle", "open")).Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Care_is_in_the_help_and_not_in_the_output()
    {
        Assert.Contains("safety data sheet", (await DoAsync("solution", "mix", "--help")).Out, StringComparison.Ordinal);
        await FillAsync();
        Assert.DoesNotContain("safety data sheet", (await DoAsync("bottle", "pour", "100ml")).Out, StringComparison.Ordinal);
    }
}

namespace Acquire.Tests.Commands.Books;

public sealed class StockCommandTests : BooksProgram
{
    [Fact]
    public async Task Stock_tells_what_is_left_thawed_and_expires()
    {
        await DoAsync("lot", "add", "2417", "--process", "c41", "--expires", "2026-12-05", "--storage", "below 13 °C");
        await DoAsync("lot", "stock", "2417", "add", "20", "--at", "-20d");
        await DoAsync("lot", "stock", "take", "3", "--at", "-2d");
        await DoAsync("lot", "stock", "use", "--at", "-1d");
        await DoAsync("lot", "stock", "return", "2");
        var stock = Assert.Single((await JsonAsync("lot", "stock", "2417")).EnumerateArray());

        Assert.Equal((19, 0, 1, 10), (Count("left"), Count("out"), Count("thaws"), Count("daysToExpiry")));
        Assert.Equal("below 13 °C", stock.GetProperty("storageRule").GetString());
        Assert.Equal("2026-11-23T20:40:00+00:00", stock.GetProperty("openedAt").GetString());
        Assert.Equal(2, (await JsonAsync("lot", "stock", "--at", "-36h"))[0].GetProperty("out").GetInt32() - 1);
        Assert.Contains("in 10 days", (await DoAsync("lot", "stock")).Out, StringComparison.Ordinal);

        int Count(string name) => stock.GetProperty(name).GetInt32();
    }

    [Fact]
    public async Task Strip_of_an_expired_lot_is_told_and_counted()
    {
        await DoAsync("lot", "add", "2417", "--process", "c41", "--expires", "2026-11-20");
        await DoAsync("lot", "stock", "2417", "add", "9", "--at", "-20d");
        var (output, error) = await DoAsync("lot", "stock", "use");

        Assert.Contains("Lot 2417 expired on 2026-11-20", error, StringComparison.Ordinal);
        Assert.Contains("8 strips left", output, StringComparison.Ordinal);
        Assert.Contains("2026-11-20 EXPIRED", output, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("no lot 9", "9", "add", "3")]
    [InlineData("not -3", "2417", "add", "-3")]
    [InlineData("'many' is no number", "2417", "add", "many")]
    [InlineData("one of add, take", "2417", "eat", "3")]
    [InlineData("Which lot?", "take")]
    public async Task What_cannot_be_is_refused(string said, params string[] words)
    {
        await DoAsync("lot", "add", "2417", "--process", "c41");

        Assert.Contains(said, await RefusedAsync(["lot", "stock", .. words]), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Stock_nobody_counted_says_how_to_begin() =>
        Assert.Contains("acquire lot stock CODE add", (await DoAsync("lot", "stock")).Out, StringComparison.Ordinal);
}

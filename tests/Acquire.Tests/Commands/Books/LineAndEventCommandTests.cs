namespace Acquire.Tests.Commands.Books;

public sealed class LineAndEventCommandTests : BooksProgram
{
    [Fact]
    public async Task Method_in_force_is_that_of_the_moment()
    {
        await FillAsync();
        await DoAsync("line", "method", "--temperature", "38.2", "--at", "-3d");
        var now = (await JsonAsync("line", "show", "dip")).GetProperty("state");
        var before = (await JsonAsync("line", "show", "dip", "--at", "-4d")).GetProperty("state");

        Assert.Equal((38.2, 37.8), (now.GetProperty("temperature").GetDouble(), before.GetProperty("temperature").GetDouble()));
        Assert.Equal(("lift every 15 s", 195), (now.GetProperty("agitation").GetString(), now.GetProperty("timeSeconds").GetDouble()));
        Assert.Equal(2, (await JsonAsync("line", "show", "dip")).GetProperty("methods").GetArrayLength());
        Assert.Contains("38.2 °C, 3:15 min", (await DoAsync("line", "list")).Out, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("There is a line dip tank already", "line", "add", "Dip Tank", "--process", "c41")]
    [InlineData("'bath' is none of bench-top-machine", "line", "add", "new", "--process", "c41", "--kind", "bath")]
    [InlineData("no process sheet 'c42'", "line", "add", "new", "--process", "c42")]
    [InlineData("Say what changed", "line", "method", "dip tank")]
    [InlineData("'soon' is no developing time", "line", "method", "dip tank", "--time", "soon")]
    [InlineData("between -30 and 100", "line", "method", "dip tank", "--temperature", "378")]
    [InlineData("did you mean dip tank?", "event", "add", "repair", "pump", "--line", "tank")]
    public async Task What_cannot_be_is_refused_and_leaves_the_books_as_they_were(string said, params string[] arguments)
    {
        await FillAsync();

        Assert.Contains(said, await RefusedAsync(arguments), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Kind_of_a_machine_is_spelt_as_the_trade_does()
    {
        await DoAsync("line", "add", "staff", "--process", "c41", "--kind", "bench-top-machine");

        Assert.Contains("bench-top machine", (await DoAsync("line", "list")).Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Events_come_in_the_order_of_what_happened()
    {
        await FillAsync();
        await DoAsync("event", "add", "new thermometer");
        await DoAsync("event", "add", "new-mix", "dev12", "in", "the", "tank", "--bottle", "D7", "--at", "-1d");
        await DoAsync("event", "add", "repair", "pump bearing", "--line", "dip", "--at", "-2d", "--note", "spare part 3");
        await DoAsync("event", "add", "pause", "--at", "-3d");
        var events = (await JsonAsync("event", "list")).EnumerateArray().ToList();

        Assert.Equal(["pause", "repair", "newMix", "other"], events.Select(e => e.GetProperty("eventKind").GetString()));
        Assert.Equal("repair: pump bearing, line dip tank", events[1].GetProperty("text").GetString());
        Assert.Equal(("dip tank", "spare part 3"), (events[1].GetProperty("line").GetString(), events[1].GetProperty("note").GetString()));
        Assert.Equal("new mix: dev12 in the tank, bottle D7", events[2].GetProperty("text").GetString());
    }

    [Fact]
    public async Task Undo_names_what_it_took_back_and_refuses_what_others_rest_on()
    {
        Assert.Contains("nothing in the books", await RefusedAsync("undo"), StringComparison.Ordinal);
        await FillAsync();
        var mix = (await JsonAsync("solution", "list"))[0].GetProperty("id").GetString()!;
        Assert.Contains("take them back first: bottle D7 filled", await RefusedAsync("undo", mix[^8..]), StringComparison.Ordinal);

        Assert.Contains(
            "withdrawn (wrong mix): bottle D7 filled", (await DoAsync("undo", "--reason", "wrong mix")).Out, StringComparison.Ordinal);
        await DoAsync("undo", mix[^8..]);
        Assert.Equal(0, (await JsonAsync("solution", "list")).GetArrayLength());
        Assert.Contains("Taken back already", await RefusedAsync("undo", mix[^8..]), StringComparison.Ordinal);
    }
}

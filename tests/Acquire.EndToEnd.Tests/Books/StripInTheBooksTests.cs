using System.Text;
using System.Text.Json;
using Acquire.EndToEnd.Tests.Support;

namespace Acquire.EndToEnd.Tests.Books;

/// <summary>
/// A strip read over a pseudo-terminal is tied to the line and bottle of the evening, and taken off the stock of its lot.
/// </summary>
[Trait("speed", "slow")]
public sealed class StripInTheBooksTests : IDisposable
{
    private const string Sent =
        "R 0.26 G 0.62 B 0.81\r\nR 0.48 G 0.85 B 1.05\r\nR 1.28 G 1.76 B 2.03\r\nR 2.13 G 2.59 B 2.93\r\nR 0.37 G 0.88 B 2.73\r\n";

    private readonly Darkroom _darkroom = new();

    public void Dispose() => _darkroom.Dispose();

    [Fact]
    public async Task Strip_takes_what_was_used_last_and_is_told_what_the_bottle_had_seen_when_it_ran()
    {
        await FillAsync();
        await _darkroom.DoAsync("use", "2x135-36", "--bottle", "D7", "--line", "dip tank", "--at", "-4h");

        var (output, error) = await ReadAsync("--ran-at", "-3h");
        await _darkroom.DoAsync("use", "2x135-36", "--at", "-5h");
        await _darkroom.DoAsync("use", "4x120", "--at", "-1h");

        Assert.Contains("Taken, since none was named: line dip tank, bottle D7.", error, StringComparison.Ordinal);
        Assert.Contains("Bottle D7: mixed 11 days before, open 1 h, 0.11 m² (2.1 rolls) through 1 L", output, StringComparison.Ordinal);
        Assert.Contains("Line dip tank: 37.8 °C", output, StringComparison.Ordinal);

        // The use entered late counts, the one after the strip and the strip's own area do not.
        var strip = await ShowAsync();
        Assert.Equal(("dip tank", "D7"), (strip.GetProperty("line").GetString(), strip.GetProperty("bottle").GetString()));
        var bottle = strip.GetProperty("books").GetProperty("bottle");
        Assert.Equal(0.22, bottle.GetProperty("areaM2").GetDouble(), 9);
        Assert.InRange(bottle.GetProperty("ageDays").GetDouble(), 11.8, 11.9);
        Assert.InRange(bottle.GetProperty("openDays").GetDouble(), 1.9 / 24, 2.0 / 24);
        Assert.Equal(37.8, strip.GetProperty("books").GetProperty("line").GetProperty("temperature").GetDouble());
        Assert.Equal(7, strip.GetProperty("books").GetProperty("stock").GetProperty("left").GetInt32());

        var own = (await _darkroom.JsonAsync("use", "list")).EnumerateArray().Single(u => u.GetProperty("stripId").GetString() is not null);
        Assert.Equal(strip.GetProperty("id").GetString(), own.GetProperty("stripId").GetString());
        Assert.Equal(0.0084, own.GetProperty("areaM2").GetDouble(), 9);
        Assert.Equal(7, (await _darkroom.JsonAsync("lot", "stock", Darkroom.Lot))[0].GetProperty("left").GetInt32());
    }

    [Fact]
    public async Task Strip_with_names_the_books_do_not_have_keeps_them_and_is_told_what_looks_like_them()
    {
        await FillAsync();
        var (_, error) = await ReadAsync("--line", "dip tnk", "--bottle", "D9");

        Assert.Contains("did you mean dip tank?", error, StringComparison.Ordinal);
        Assert.Contains("did you mean D7?", error, StringComparison.Ordinal);
        var strip = await ShowAsync();
        Assert.Equal(("dip tnk", "D9"), (strip.GetProperty("line").GetString(), strip.GetProperty("bottle").GetString()));
        Assert.Equal(JsonValueKind.Null, strip.GetProperty("books").GetProperty("bottle").ValueKind);
        Assert.Equal(7, strip.GetProperty("books").GetProperty("stock").GetProperty("left").GetInt32());
    }

    private async Task FillAsync()
    {
        await _darkroom.AddLotAsync();
        await _darkroom.DoAsync("line", "add", "dip tank", "--process", "c41", "--temperature", "37.8", "--at", "-30d");
        await _darkroom.DoAsync("solution", "mix", "dev12", "1L", "--at", "-12d");
        await _darkroom.DoAsync("bottle", "fill", "D7", "--at", "-12d");
        await _darkroom.DoAsync("lot", "stock", Darkroom.Lot, "add", "8", "--at", "-10d");
    }

    private async Task<(string Out, string Error)> ReadAsync(params string[] more)
    {
        await using var cable = await SerialCable.LayAsync(_darkroom.Folder);
        await using var read = _darkroom.Start(
            ["read", "--port", cable.Near, "--profile", "labelled-line", "--lot", Darkroom.Lot, "--reads", "1", .. more]);
        await read.SaidAsync("next: D-min, read 1 of 1");
        await cable.SendAsync(Encoding.ASCII.GetBytes(Sent), 1);
        Assert.Equal(0, await read.ExitAsync());
        return (read.Out, read.Error);
    }

    private async Task<JsonElement> ShowAsync()
    {
        var id = Assert.Single((await _darkroom.JsonAsync("strip", "list")).EnumerateArray()).GetProperty("id").GetString()!;
        return await _darkroom.JsonAsync("strip", "show", id);
    }
}

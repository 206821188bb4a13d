using System.Text;
using System.Text.Json;
using Acquire.EndToEnd.Tests.Support;

namespace Acquire.EndToEnd.Tests.Reading;

/// <summary>The program reads an instrument that shares no code with it, over a pseudo-terminal pair, bytes cut at random places.</summary>
[Trait("speed", "slow")]
public sealed class ForeignInstrumentTests : IDisposable
{
    private readonly Darkroom _darkroom = new();

    public void Dispose() => _darkroom.Dispose();

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public async Task Labelled_lines_give_a_strip_inside_the_limits(int seed)
    {
        await using var cable = await SerialCable.LayAsync(_darkroom.Folder);
        await _darkroom.AddLotAsync();
        const string Sent =
            "R 0.26 G 0.62 B 0.81\r\nR 0.27 G 0.63 B 0.80\r\n"
            + "R 0.48 G 0.85 B 1.05\r\nR 0.47 G 0.86 B 1.06\r\n"
            + "R 1.28 G 1.76 B 2.03\r\nR 1.27 G 1.75 B 2.02\r\n"
            + "R 2.13 G 2.59 B 2.93\r\nR 2.12 G 2.58 B 2.94\r\n"
            + "R 0.37 G 0.88 B 2.73\r\nR 0.38 G 0.89 B 2.72\r\n";

        await using var read = _darkroom.Start(
            "read", "--port",
            cable.Near, "--profile", "labelled-line", "--lot", Darkroom.Lot, "--reads", "2", "--line", "dip tank", "--bottle", "D3");
        await read.SaidAsync("next: D-min, read 1 of 2");
        await cable.SendAsync(Encoding.ASCII.GetBytes(Sent), seed);

        Assert.Equal(0, await read.ExitAsync());
        Assert.Contains("INSIDE the action limits", read.Out, StringComparison.Ordinal);
        var strip = await OnlyStripAsync();
        Assert.Equal("inside", strip.GetProperty("zone").GetString());
        Assert.Equal("dip tank", strip.GetProperty("line").GetString());
        Assert.Equal("D3", strip.GetProperty("bottle").GetString());
        Assert.Equal(Sent.Split("\r\n", StringSplitOptions.RemoveEmptyEntries), Lines(strip));

        // LD red: mean 0.475 against 0.45 + 0.01; HD − LD blue: 2.025 − 1.055 against 2.00 − 1.04.
        Assert.Equal(0.015, Deviation(strip, "ld", "red"), 1e-9);
        Assert.Equal(0.010, Deviation(strip, "contrast", "blue"), 1e-9);
    }

    [Theory]
    [InlineData(4)]
    [InlineData(5)]
    public async Task One_channel_per_line_gives_a_strip_out_of_control(int seed)
    {
        await using var cable = await SerialCable.LayAsync(_darkroom.Folder);
        await _darkroom.AddLotAsync();
        decimal[][] densities = [
            [0.31m, 0.69m, 0.90m], [0.52m, 0.90m, 1.12m], [1.31m, 1.80m, 2.09m], [2.15m, 2.61m, 2.98m], [0.42m, 0.93m, 2.75m]];
        var lines = densities.SelectMany(d => new FormattableString[] { $"R= {d[0]}", $"G= {d[1]}", $"B= {d[2]}" })
            .Select(FormattableString.Invariant)
            .ToList();

        await using var read = _darkroom.Start(
            "read", "--port", cable.Near, "--profile", "channel-lines-labelled", "--lot", Darkroom.Lot, "--reads", "1");
        await read.SaidAsync("next: D-min, read 1 of 1");
        await cable.SendAsync(Encoding.ASCII.GetBytes(string.Concat(lines.Select(l => l + "\r"))), seed);

        Assert.Equal(1, await read.ExitAsync());
        Assert.Contains("OUT of control: D-min", read.Out, StringComparison.Ordinal);
        var strip = await OnlyStripAsync();
        Assert.Equal("out", strip.GetProperty("zone").GetString());
        Assert.Equal(lines, Lines(strip));
        Assert.Equal(0.10, Deviation(strip, "dmin", "blue"), 1e-9);
    }

    [Fact]
    public async Task Lines_that_fit_nothing_and_densities_beyond_range_are_shown_kept_and_counted()
    {
        await using var cable = await SerialCable.LayAsync(_darkroom.Folder);
        await _darkroom.AddLotAsync();
        await using var read =
            _darkroom.Start("read", "--port", cable.Near, "--profile", "labelled-line", "--lot", Darkroom.Lot, "--reads", "1");
        await read.SaidAsync("next: D-min");
        await cable.SendAsync(
            Encoding.Latin1.GetBytes(
                "\u00ff\u0080noise\r\nR 0.26 G 0.62 B 0.8\r\nR 0.26 G 0.62 B 0.80\r\nR >4.0 G 0.86 B 1.04\r\nR 0.46 G 0.86 B 1.04\r\n"
                + "R 1.26 G 1.74 B 2.00\r\nR 2.12 G 2.58 B 2.92\r\nR 0.37 G 0.88 B 2.72\r\n"),
            seed: 6);

        Assert.Equal(0, await read.ExitAsync());
        Assert.Contains("Beyond the instrument's range in red", read.Error, StringComparison.Ordinal);
        Assert.Contains("\\xFF\\x80noise", read.Error, StringComparison.Ordinal);
        Assert.Contains("2 lines fitted nothing in the profile", read.Error, StringComparison.Ordinal);
        Assert.Equal(5, Lines(await OnlyStripAsync()).Count);
    }

    private async Task<JsonElement> OnlyStripAsync()
    {
        var list = await _darkroom.JsonAsync("strip", "list");
        var id = Assert.Single(list.EnumerateArray()).GetProperty("id").GetString()!;
        return await _darkroom.JsonAsync("strip", "show", id);
    }

    private static List<string> Lines(JsonElement strip) =>
        [.. from patch in strip.GetProperty("patches").EnumerateArray()
            from read in patch.GetProperty("reads").EnumerateArray()
            from line in read.GetProperty("lines").EnumerateArray()
            select line.GetString()];

    private static double Deviation(JsonElement strip, string key, string channel) => strip.GetProperty("parameters").EnumerateArray()
        .Single(p => p.GetProperty("key").GetString() == key && p.GetProperty("channel").GetString() == channel)
        .GetProperty("deviation").GetDouble();
}

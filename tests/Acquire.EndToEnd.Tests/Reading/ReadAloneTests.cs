using System.Text;
using Acquire.EndToEnd.Tests.Support;

namespace Acquire.EndToEnd.Tests.Reading;

/// <summary><c>acquire read</c> and nothing more, in a house with one instrument: a person is asked, a script is told.</summary>
[Trait("speed", "slow")]
public sealed class ReadAloneTests : IDisposable
{
    private static readonly byte[] Strip = Encoding.ASCII.GetBytes(
        "R 0.26 G 0.62 B 0.81\r\nR 0.46 G 0.85 B 1.05\r\nR 1.27 G 1.75 B 2.01\r\nR 2.13 G 2.59 B 2.93\r\nR 0.37 G 0.88 B 2.73\r\n");

    private readonly Darkroom _darkroom = new();

    public void Dispose() => _darkroom.Dispose();

    [Fact]
    public async Task Person_at_the_keyboard_is_asked_and_Enter_takes_what_was_used_last()
    {
        await using var cable = await SerialCable.LayAsync(_darkroom.Folder);
        await EquipAsync(cable);
        await using var person = _darkroom.StartAtKeyboard(
            [($"Lot [Enter: {Darkroom.Lot}]", "\r"), ("Line [Enter: dip tank; -: none]", "\r"), ("All patches are read", "\r")],
            ["read", "--reads", "1"]);
        await person.UntilAsync(() => person.Out.Contains("Place the patch and read: D-min", StringComparison.Ordinal), "the first patch");
        await cable.SendAsync(Strip, seed: 1);

        Assert.True(await person.ExitAsync() == 0, person.Out);
        await AssertKeptAsync(cable);
    }

    [Fact]
    public async Task Script_is_told_what_was_taken()
    {
        await using var cable = await SerialCable.LayAsync(_darkroom.Folder);
        await EquipAsync(cable);
        await using var read = _darkroom.Start("read", "--reads", "1");
        await read.SaidAsync("next: D-min");
        await cable.SendAsync(Strip, seed: 2);

        Assert.True(await read.ExitAsync() == 0, read.Error);
        Assert.Contains($"Taken, since none was named: lot {Darkroom.Lot}.", read.Error, StringComparison.Ordinal);
        Assert.Contains("Taken, since none was named: line dip tank.", read.Error, StringComparison.Ordinal);
        await AssertKeptAsync(cable);
    }

    private async Task EquipAsync(SerialCable cable)
    {
        await _darkroom.AddLotAsync();
        await _darkroom.DoAsync("instrument", "add", "bench", "--port", cable.Near, "--profile", "labelled-line");
        await _darkroom.DoAsync("line", "add", "dip tank", "--process", "c41", "--kind", "dip-tank");
    }

    private async Task AssertKeptAsync(SerialCable cable)
    {
        var strip = Assert.Single((await _darkroom.JsonAsync("strip", "list")).EnumerateArray());
        Assert.Equal(
            (Darkroom.Lot, "dip tank"), (strip.GetProperty("lot").GetString(), strip.GetProperty("line").GetString()));
        var shown = await _darkroom.JsonAsync("strip", "show", strip.GetProperty("id").GetString()!);
        var used = shown.GetProperty("instrument");
        Assert.Equal(("bench", cable.Near), (used.GetProperty("name").GetString(), used.GetProperty("port").GetString()));
    }
}

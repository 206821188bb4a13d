using Acquire.EndToEnd.Tests.Support;

namespace Acquire.EndToEnd.Tests.Reading;

/// <summary>A person at the keyboard lets an instrument read that shares no code with the program.</summary>
[Trait("speed", "slow")]
public sealed class ToldInstrumentTests : IDisposable
{
    private static readonly string[] Readings =
    [
        "R=0.26 G=0.62 B=0.81", "R=0.48 G=0.85 B=1.05", "R=1.28 G=1.76 B=2.03", "R=2.13 G=2.59 B=2.93", "R=0.37 G=0.88 B=2.73",
    ];

    private readonly Darkroom _darkroom = new();

    public void Dispose() => _darkroom.Dispose();

    [Fact]
    public async Task Key_t_reads_each_patch_and_the_strip_is_kept()
    {
        await using var cable = await SerialCable.LayAsync(_darkroom.Folder);
        await _darkroom.AddLotAsync();
        await using var instrument = await InstrumentAsync(cable);
        await using var person = _darkroom.StartAtKeyboard(
            [
                ("patch 1 of 5", "t"), ("patch 2 of 5", "t"), ("patch 3 of 5", "t"), ("patch 4 of 5", "t"), ("patch 5 of 5", "t"),
                ("All patches are read", "\r"),
            ],
            ["read", "--port", cable.Near, "--profile", "told-to-read", "--lot", Darkroom.Lot, "--reads", "1"]);

        Assert.True(await person.ExitAsync() == 0, person.Out);
        Assert.Contains("This instrument reads when it is told: press t, or its own key.", person.Out, StringComparison.Ordinal);
        Assert.Contains("INSIDE the action limits", person.Out, StringComparison.Ordinal);
        var id = Assert.Single((await _darkroom.JsonAsync("strip", "list")).EnumerateArray()).GetProperty("id").GetString()!;
        var strip = await _darkroom.JsonAsync("strip", "show", id);
        Assert.Equal(
            Readings,
            from patch in strip.GetProperty("patches").EnumerateArray()
            from read in patch.GetProperty("reads").EnumerateArray()
            from line in read.GetProperty("lines").EnumerateArray()
            select line.GetString());
    }

    [Fact]
    public async Task Listening_sends_nothing_unless_it_is_to_trigger()
    {
        await using var cable = await SerialCable.LayAsync(_darkroom.Folder);
        await using var instrument = await InstrumentAsync(cable);
        var silent = await _darkroom.DoAsync("listen", "--port", cable.Near, "--profile", "told-to-read", "--seconds", "1");
        Assert.DoesNotContain("→ reading", silent, StringComparison.Ordinal);

        await using var listen = _darkroom.Start("listen", "--port", cable.Near, "--profile", "told-to-read", "--trigger");
        await listen.UntilAsync(() => listen.Out.Contains("→ reading R 0.26 G 0.62 B 0.81", StringComparison.Ordinal), "the reading");
        Assert.Equal(0, await listen.SignalAsync());
    }

    private async Task<RunningProgram> InstrumentAsync(SerialCable cable)
    {
        var file = Path.Combine(_darkroom.Folder, "readings.txt");
        await File.WriteAllLinesAsync(file, Readings, TestContext.Current.CancellationToken);
        return RunningProgram.Start(
            "python3", [Path.Combine(AppContext.BaseDirectory, "Scripts", "told_instrument.py"), cable.Far, file]);
    }
}

using System.Text;
using System.Text.Json;
using Acquire.EndToEnd.Tests.Support;

namespace Acquire.EndToEnd.Tests.Questions;

/// <summary>
/// A strip that lies the wrong way round under an instrument that shares no code with the program; one key puts it right.
/// </summary>
[Trait("speed", "slow")]
public sealed class WrongEndTests : IDisposable
{
    private static readonly byte[] FromTheWrongEnd = Encoding.ASCII.GetBytes(
        "R 0.37 G 0.88 B 2.73\r\nR 2.13 G 2.59 B 2.93\r\nR 1.28 G 1.76 B 2.03\r\nR 0.48 G 0.85 B 1.05\r\nR 0.26 G 0.62 B 0.81\r\n");

    private readonly Darkroom _darkroom = new();

    public void Dispose() => _darkroom.Dispose();

    [Fact]
    public async Task Person_answers_with_one_key_and_the_patches_stand_in_order()
    {
        await using var cable = await SerialCable.LayAsync(_darkroom.Folder);
        await _darkroom.AddLotAsync();
        await using var person = _darkroom.StartAtKeyboard(
            [("Put the patches in the right order?", "y"), ("All patches are read", "\r")],
            ["read", "--port", cable.Near, "--profile", "labelled-line", "--lot", Darkroom.Lot, "--reads", "1"]);
        await person.UntilAsync(() => person.Out.Contains("Place the patch and read: D-min", StringComparison.Ordinal), "the first patch");
        await cable.SendAsync(FromTheWrongEnd, seed: 1);

        Assert.True(await person.ExitAsync() == 0, person.Out);
        Assert.Contains("y  yes: give the reads to the patches in reverse order", person.Out, StringComparison.Ordinal);
        Assert.Contains("INSIDE the action limits", person.Out, StringComparison.Ordinal);
        var strip = await OnlyStripAsync();
        Assert.Equal([0.26m, 0.48m, 1.28m, 2.13m, 0.37m], Reds(strip));
        Assert.Equal(
            "read as Yellow, moved to D-min", strip.GetProperty("patches")[0].GetProperty("reads")[0].GetProperty("note").GetString());
        var question = strip.GetProperty("questions").EnumerateArray().Last();
        Assert.Equal(("wrong_end", "accepted"), (question.GetProperty("kind").GetString(), question.GetProperty("answer").GetString()));
        Assert.Contains(
            "Asked: This strip looks as if it was read from the wrong end.",
            await _darkroom.DoAsync("strip", "show", strip.GetProperty("id").GetString()!),
            StringComparison.Ordinal);
    }

    [Fact]
    public async Task Nobody_at_a_keyboard_leaves_the_strip_as_read_and_the_question_with_it()
    {
        await using var cable = await SerialCable.LayAsync(_darkroom.Folder);
        await _darkroom.AddLotAsync();
        await using var read =
            _darkroom.Start("read", "--port", cable.Near, "--profile", "labelled-line", "--lot", Darkroom.Lot, "--reads", "1");
        await read.SaidAsync("next: D-min");
        await cable.SendAsync(FromTheWrongEnd, seed: 2);

        Assert.Equal(1, await read.ExitAsync());
        Assert.Contains(
            "Put the patches in the right order? Proposed: give the reads to the patches in reverse order. Nobody is at a keyboard",
            read.Error,
            StringComparison.Ordinal);
        Assert.Contains("Not answered; look at the reads before you trust the strip.", read.Out, StringComparison.Ordinal);
        var strip = await OnlyStripAsync();
        Assert.Equal([0.37m, 2.13m, 1.28m, 0.48m, 0.26m], Reds(strip));
        Assert.All(strip.GetProperty("questions").EnumerateArray(), q => Assert.Equal("unanswered", q.GetProperty("answer").GetString()));
    }

    private static IEnumerable<decimal> Reds(JsonElement strip) => strip.GetProperty("patches").EnumerateArray()
        .SelectMany(p => p.GetProperty("reads").EnumerateArray())
        .Select(r => r.GetProperty("red").GetDecimal());

    private async Task<JsonElement> OnlyStripAsync()
    {
        var id = Assert.Single((await _darkroom.JsonAsync("strip", "list")).EnumerateArray()).GetProperty("id").GetString()!;
        return await _darkroom.JsonAsync("strip", "show", id);
    }
}

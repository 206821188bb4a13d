using Acquire.Bench.Guidance;
using Acquire.Bench.Sessions;
using Acquire.Hosting;
using Acquire.Instruments.Links;
using Acquire.Terminal;

namespace Acquire.Tests.Terminal;

public class TerminalDisplayTests
{
    private static readonly Patch Low = new("ld", "LD");
    private static readonly ReadTarget Target = new(Low, 2, 3, 2, 5);
    private static readonly ChannelDensities Densities = ChannelDensities.Rgb(0.46m, 0.84m, 1.04m);

    [Fact]
    public void Bell_rings_once_for_a_reading_and_twice_for_a_question()
    {
        Assert.Equal(1, Bells(new BenchUpdate.Accepted(Target, Densities)));
        Assert.Equal(2, Bells(new BenchUpdate.Attention("What is this?")));
        Assert.Equal(0, Bells(new BenchUpdate.Remark(LineMeaning.Ignored, "DENSITOMETER READY")));
    }

    [Fact]
    public void Bell_is_silent_when_told() => Assert.Equal(0, Bells(new BenchUpdate.Accepted(Target, Densities), bell: false));

    [Fact]
    public void Prompt_in_a_log_is_one_line() =>
        Assert.Equal("next: LD, read 2 of 3, patch 2 of 5", Shown(new BenchUpdate.Prompt(Target, IsFirst: true)).Trim());

    [Fact]
    public void Prompt_at_a_terminal_is_large_and_says_to_lift_the_strip()
    {
        var shown = Shown(new BenchUpdate.Prompt(Target, IsFirst: true), atTerminal: true);
        Assert.Contains("Lift the strip, place it anew and read: LD, read 2 of 3, patch 2 of 5", shown, StringComparison.Ordinal);
        Assert.Contains(KeyboardCommands.Help, shown, StringComparison.Ordinal);
        Assert.True(shown.Split('\n').Length > 6);
    }

    [Fact]
    public void Link_that_is_gone_rings_and_each_state_is_a_line()
    {
        var fault = new LinkException(LinkFault.Gone, "The port went away.");
        Assert.Equal(2, Bells(BenchUpdate.Link.Of(new LinkState.Gone(fault))));
        Assert.Contains(
            "gone: The port went away. What was read is kept",
            Shown(BenchUpdate.Link.Of(new LinkState.Gone(fault))),
            StringComparison.Ordinal);
        Assert.Equal(
            "  reconnecting, attempt 4: The port went away. It is opened as soon as it is there.",
            Shown(BenchUpdate.Link.Of(new LinkState.Reconnecting(4, fault, "It is opened as soon as it is there."))).TrimEnd());
        Assert.Equal(
            ["  connected: COM3", "  No DTR."],
            Shown(BenchUpdate.Link.Of(new LinkState.Connected("COM3", ["No DTR."]))).Split('\n', StringSplitOptions.RemoveEmptyEntries));
        Assert.Contains(
            "silent for 2 min",
            Shown(BenchUpdate.Link.Of(new LinkState.Silent("COM3", TimeSpan.FromMinutes(2)))),
            StringComparison.Ordinal);
    }

    [Fact]
    public void Question_at_a_terminal_says_what_each_key_does()
    {
        var shown =
            Shown(new BenchUpdate.Question("These look like HD and LD exchanged: reorder?", "move reads", Target), atTerminal: true);
        Assert.Equal(
            [
                "  ? These look like HD and LD exchanged: reorder?",
                "    y  yes: move reads",
                "    n  no: leave it as it was read",
                "    or go on with LD, read 2 of 3, and leave the question open",
            ],
            shown.Replace("\a", "", StringComparison.Ordinal).Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(l => l.TrimEnd()));
        Assert.Equal(2, shown.Count(c => c == '\a'));
        Assert.DoesNotContain("go on", Shown(new BenchUpdate.Question("Why?", "look", null), atTerminal: true), StringComparison.Ordinal);
    }

    [Fact]
    public void Question_in_a_log_is_one_line_and_says_that_nothing_is_changed() => Assert.Equal(
        "  ? Reorder? Proposed: move reads. Nobody is at a keyboard: nothing is changed, and the question stays with the strip.",
        Shown(new BenchUpdate.Question("Reorder?", "move reads", null), bell: false).TrimEnd());

    private static int Bells(BenchUpdate update, bool bell = true) => Shown(update, bell).Count(c => c == '\a');

    private static string Shown(BenchUpdate update, bool bell = true, bool atTerminal = false)
    {
        using var writer = new StringWriter();
        new TerminalDisplay(Surroundings.Make(writer, redirected: true), bell, atTerminal, TimeProvider.System).Show(update);
        return writer.ToString();
    }
}

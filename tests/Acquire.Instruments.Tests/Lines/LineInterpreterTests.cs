using Acquire.Instruments.Lines;
using Acquire.Instruments.Tests.Profiles;

namespace Acquire.Instruments.Tests.Lines;

public sealed class LineInterpreterTests
{
    private static readonly DateTimeOffset Start = new(2026, 3, 2, 18, 0, 0, TimeSpan.Zero);

    [Fact]
    public void Reading_carries_its_densities_time_and_line()
    {
        var line = RawLine.OfText(" R 0.26  G 0.62  B 0.80 ", Start);
        var taken = Assert.IsType<InstrumentEvent.ReadingTaken>(Interpreter("labelled-line").Interpret(line));
        Assert.Equal(ChannelDensities.Rgb(0.26m, 0.62m, 0.80m), taken.Reading.Densities);
        Assert.Equal(2, taken.Reading.Densities.Blue!.Value.Decimals);
        Assert.Equal(Start, taken.Reading.At);
        Assert.Same(line, Assert.Single(taken.Reading.Lines));
    }

    [Fact]
    public void Over_range_on_some_channels_makes_no_reading_and_names_them()
    {
        var beyond = Assert.IsType<InstrumentEvent.BeyondRange>(
            Interpreter("labelled-line").Interpret(RawLine.OfText("R 3.12 G >4.0 B HI", Start)));
        Assert.Equal([Channel.Green, Channel.Blue], beyond.Channels);
    }

    [Fact]
    public void Blank_line_is_ignored() =>
        Assert.IsType<InstrumentEvent.IgnoredLine>(Interpreter("labelled-line").Interpret(RawLine.OfText(" \t ", Start)));

    [Fact]
    public void Misfit_names_the_nearest_rule_the_character_and_what_was_expected()
    {
        var unmatched = Assert.IsType<InstrumentEvent.UnmatchedLine>(
            Interpreter("labelled-line").Interpret(RawLine.OfText("R 0.26 G 0.6 B 0.80", Start)));
        Assert.Equal(
            "Nearest is line rule 1, 'R {red} G {green} B {blue}': at character 13 expected 2 decimals, found ' B 0.80'.",
            unmatched.Reason);
    }

    [Theory]
    [InlineData(FrameFault.TooLong, "256 bytes")]
    [InlineData(FrameFault.Unfinished, "link ended")]
    [InlineData(FrameFault.CutByStart, "characters were lost")]
    [InlineData(FrameFault.OutsideFrame, "outside start and end")]
    public void Line_with_a_fault_is_never_parsed(FrameFault fault, string reason)
    {
        var frame = new LineFrame(RawLine.OfText("R 0.26 G 0.62 B 0.80", Start), fault);
        var unmatched = Assert.IsType<InstrumentEvent.UnmatchedLine>(Interpreter("labelled-line").Interpret(frame));
        Assert.Contains(reason, unmatched.Reason, StringComparison.Ordinal);
    }

    /// <summary>
    /// Lines with the seconds at which they come, and what each gives: c a channel, R a reading, H beyond range, E error, i ignored,
    /// u unmatched; a star marks a reading that was given up.
    /// </summary>
    [Theory]
    [InlineData("channel-lines-labelled", "0 R= 0.26|0 G= 0.62|0 B= 0.80", "c c R")]
    [InlineData("channel-lines-labelled", "0 R= 0.26|2 G= 0.62|5 B= 0.80", "c c R")]
    [InlineData("channel-lines-labelled", "0 R= 0.26|4 G= 0.62|4 B= 0.80", "c u* u")]
    [InlineData("channel-lines-labelled", "0 G= 0.62|0 B= 0.80|9 R= 1.26|9 G= 1.74|9 B= 2.00", "u u c c R")]
    [InlineData("channel-lines-labelled", "0 R= 0.26|0 B= 0.80|1 R= 1.26|1 G= 1.74|1 B= 2.00", "c u* c c R")]
    [InlineData("channel-lines-labelled", "0 R= 0.26|0 G= 0.62|1 R= 1.26|1 G= 1.74|1 B= 2.00", "c c c* c R")]
    [InlineData("channel-lines-labelled", "0 R= 0.26|0 R= 0.26|0 G= 0.62|0 B= 0.80", "c c* c R")]
    [InlineData("channel-lines-labelled", "0 R= 0.26|0 G= 0.6|0 B= 0.80", "c u* u")]
    [InlineData("channel-lines-labelled", "0 R= 0.26|0 STATUS M|0 G= 0.62|0 B= 0.80", "c i c R")]
    [InlineData("channel-lines-labelled", "0 R= 0.26|0 ERR 1 X|0 G= 0.62", "c E* u")]
    [InlineData("channel-lines-labelled", "0 R=H|0 G= 0.62|0 B= 0.80", "c c H")]
    [InlineData("channel-lines-plain", "0 0.26|0 0.62|0 0.80|0 0.26|0 0.62|0 0.80", "c c R c c R")]
    [InlineData("channel-lines-plain", "0 0.26|0 0.80|5 1.26|5 1.74|5 2.00", "c c c* c R")]
    [InlineData("channel-lines-plain", "0 0.26|0 0.6|0 0.80|5 1.26|5 1.74|5 2.00", "c u* u c c R")]
    [InlineData("channel-lines-plain", "0 0.6|0 0.62|0 0.80|5 1.26|5 1.74|5 2.00", "u u u c c R")]
    [InlineData("channel-lines-plain", "0 E12|0 0.26|0 0.62|0 0.80", "E c c R")]
    [InlineData("channel-lines-plain", "5 0.26|0 0.62|0 0.80", "c c R")]
    public void Channels_of_two_measurements_are_never_merged(string profile, string lines, string expected)
    {
        var interpreter = Interpreter(profile);
        var events = lines.Split('|').Select(l => l.Split(' ', 2))
            .Select(l => interpreter.Interpret(RawLine.OfText(l[1], Start.AddSeconds(int.Parse(l[0], null)))));
        Assert.Equal(expected, string.Join(' ', events.Select(Letter)));
    }

    [Fact]
    public void Reading_of_several_lines_carries_them_all()
    {
        var interpreter = Interpreter("channel-lines-plain");
        var last = new[] { "0.26", "0.62", "0.80" }.Select(t => interpreter.Interpret(RawLine.OfText(t, Start))).ToList()[^1];
        var taken = Assert.IsType<InstrumentEvent.ReadingTaken>(last);
        Assert.Equal(["0.26", "0.62", "0.80"], taken.Reading.Lines.Select(l => l.Text));
    }

    [Fact]
    public void Given_up_reading_is_told()
    {
        var interpreter = Interpreter("channel-lines-plain");
        interpreter.Interpret(RawLine.OfText("0.26", Start));
        var next = interpreter.Interpret(RawLine.OfText("0.62", Start.AddSeconds(2)));
        Assert.Equal("The unfinished reading before (red) was given up: the next line came more than 1.5 s later.", next.Note);
    }

    private static LineInterpreter Interpreter(string profile) => new(ShippedProfiles.Get(profile));

    private static string Letter(InstrumentEvent e) => e.Meaning switch
    {
        LineMeaning.Reading => "R",
        LineMeaning.Partial => "c",
        LineMeaning.OverRange => "H",
        LineMeaning.Error => "E",
        LineMeaning.Ignored => "i",
        LineMeaning.Unmatched => "u",
        _ => "?",
    } + (e.Note is null ? "" : "*");
}

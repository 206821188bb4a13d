using System.Text;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Tests.Lines;

public sealed class LineFramerTests
{
    private static readonly DateTimeOffset Start = new(2026, 3, 2, 18, 0, 0, TimeSpan.Zero);

    public static TheoryData<LineEnd, string, string[]> Ends() => new()
    {
        { LineEnd.Any, "a\rb\nc\r\nd\n\re\r\n\r\n\nf", ["a", "b", "c", "d", "e"] },
        { LineEnd.Cr, "a\rb\r\r\rc", ["a", "b"] },
        { LineEnd.Cr, "a\r\nb\r", ["a", "\nb"] },
        { LineEnd.Lf, "a\nb\n\nc", ["a", "b"] },
        { LineEnd.CrLf, "a\r\nb\rc\nd\r\n\r\n", ["a", "b\rc\nd"] },
        { LineEnd.CrLf, "a\r\r\nb", ["a\r"] },
        { LineEnd.LfCr, "a\n\rb\n\r", ["a", "b"] },
        { LineEnd.None, "a\r\nb", [] },
        { LineEnd.None, "a\fb\f\f", ["a", "b"] },
        { LineEnd.Any, "\0a\0b\0\r", ["ab"] },
    };

    [Theory]
    [MemberData(nameof(Ends))]
    public void Push_cuts_at_the_line_end_whatever_the_chunks(LineEnd end, string bytes, string[] expected)
    {
        var settings = new FramingSettings { LineEnd = end };
        for (var size = 1; size <= bytes.Length; size++)
        {
            var framer = new LineFramer(settings);
            var chunks = Encoding.Latin1.GetBytes(bytes).Chunk(size);
            Assert.Equal(expected, chunks.SelectMany(c => framer.Push(c, Start)).Select(Text));
        }
    }

    [Fact]
    public void Push_between_start_and_end_leaves_line_ends_and_keeps_noise_apart()
    {
        var framer = new LineFramer(new FramingSettings { LineEnd = LineEnd.Any, Start = 2, End = 3 });
        var frames = framer.Push("#\u0002one\u0003\r\n\u0002tw\u0002three\r\n\u0003\r\nxy\r\n"u8, Start);
        (string, FrameFault)[] expected =
        [
            ("#", FrameFault.OutsideFrame), ("one", FrameFault.None), ("tw", FrameFault.CutByStart),
            ("three", FrameFault.None), ("xy", FrameFault.OutsideFrame),
        ];
        Assert.Equal(expected, frames.Select(f => (Text(f), f.Fault)));
    }

    [Fact]
    public void Push_where_only_a_start_separates_lines_ends_the_line_before()
    {
        var framer = new LineFramer(new FramingSettings { LineEnd = LineEnd.None, Start = (byte)'$', IdleGap = TimeSpan.FromSeconds(1) });
        Assert.Equal(
            [("one", FrameFault.None), ("two", FrameFault.None)], framer.Push("$one$two$"u8, Start).Select(f => (Text(f), f.Fault)));
    }

    [Fact]
    public void Push_of_an_endless_line_emits_it_cut_and_drops_the_rest()
    {
        var framer = new LineFramer(new FramingSettings { MaxLength = 8 });
        var frames = framer.Push("12345678"u8, Start);
        Assert.Empty(frames);
        Assert.True(framer.HasPending);

        frames = framer.Push("9abc\r"u8, Start);
        Assert.Equal([("12345678", FrameFault.TooLong)], frames.Select(f => (Text(f), f.Fault)));
        Assert.Equal(["ok"], framer.Push("ok\r"u8, Start).Select(Text));
    }

    [Fact]
    public void Push_of_a_line_of_exactly_the_most_bytes_is_whole()
    {
        var framer = new LineFramer(new FramingSettings { MaxLength = 8, LineEnd = LineEnd.CrLf });
        Assert.Equal([FrameFault.None], framer.Push("12345678\r\n"u8, Start).Select(f => f.Fault));
    }

    [Fact]
    public void Push_clears_the_top_bit_when_asked()
    {
        // Seven data bits with even parity received as eight: characters with an odd number of ones carry the top bit.
        var framer = new LineFramer(new FramingSettings(), maskTopBit: true);
        byte[] bytes = [.. "R 0.26\r"u8.ToArray().Select(b => (byte)(byte.PopCount(b) % 2 == 0 ? b : b | 0x80))];
        Assert.Equal(["R 0.26"], framer.Push(bytes, Start).Select(Text));
    }

    [Fact]
    public void Flush_ends_the_line_when_the_gap_has_passed_and_not_before()
    {
        var framer = new LineFramer(new FramingSettings { LineEnd = LineEnd.None, IdleGap = TimeSpan.FromMilliseconds(100) });
        Assert.Empty(framer.Push("R0"u8, Start));
        Assert.Empty(framer.Push(".26"u8, Start.AddMilliseconds(99)));
        Assert.Equal(Start.AddMilliseconds(199), framer.Deadline);
        Assert.Empty(framer.Flush(Start.AddMilliseconds(198)));

        var frame = Assert.Single(framer.Flush(Start.AddMilliseconds(250)));
        Assert.Equal("R0.26", Text(frame));
        Assert.Equal(Start.AddMilliseconds(99), frame.Line.ReceivedAt);
        Assert.False(framer.HasPending);
        Assert.Null(framer.Deadline);
    }

    [Fact]
    public void Push_after_the_gap_ends_the_line_before_first()
    {
        var framer = new LineFramer(new FramingSettings { LineEnd = LineEnd.None, IdleGap = TimeSpan.FromMilliseconds(100) });
        framer.Push("one"u8, Start);
        Assert.Equal(["one"], framer.Push("two"u8, Start.AddMilliseconds(100)).Select(Text));
    }

    [Fact]
    public void Finish_gives_the_rest_as_unfinished()
    {
        var framer = new LineFramer(new FramingSettings());
        framer.Push("R 0.2"u8, Start);
        Assert.Equal([("R 0.2", FrameFault.Unfinished)], framer.Finish().Select(f => (Text(f), f.Fault)));
        Assert.Empty(framer.Finish());
    }

    private static string Text(LineFrame frame) => Encoding.Latin1.GetString(frame.Line.Bytes.AsSpan());
}

using System.Text;
using Acquire.Instruments.Captures;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Tests.Captures;

public sealed class CaptureReaderTests
{
    private const string Head = "# acquire capture 1\n# port: /dev/ttyUSB0\n# profile: labelled-line\n# settings: 9600 8N1\n";

    [Fact]
    public void Capture_file_gives_its_header_its_chunks_and_its_breaks()
    {
        var capture = Read(
            Head + "2026-11-25T18:40:01.5+00:00\tR \\x5C 0\\x0D\\x0A\n2026-11-25T19:40:02+01:00\t\\break\r\n2026-11-25T18:40:03Z\t\\end\n");
        Assert.Equal(
            (CaptureKind.Timed, "/dev/ttyUSB0", "labelled-line", "9600 8N1"),
            (capture.Kind, capture.Port, capture.Profile, capture.Settings));
        Assert.Equal(new DateTimeOffset(2026, 11, 25, 18, 40, 1, 500, TimeSpan.Zero), capture.Chunks[0].At);
        Assert.Equal("R \\ 0\r\n"u8.ToArray(), capture.Chunks[0].Bytes);
        Assert.True(capture.Chunks[1].IsBreak);
        Assert.Equal(new DateTimeOffset(2026, 11, 25, 18, 40, 2, TimeSpan.Zero), capture.Chunks[1].At);
        Assert.Equal(2, capture.Chunks.Length);
        Assert.Equal(new DateTimeOffset(2026, 11, 25, 18, 40, 3, TimeSpan.Zero), capture.EndedAt);
    }

    [Theory]
    [InlineData("R 0.26 G 0.62 B 0.80\n", 5, "does not begin with a time")]
    [InlineData("2026-11-25T18:40:01Z\tR \\q\n", 5, "character 3")]
    [InlineData("2026-11-25T18:40:01Z\tR\n2026-11-25T18:40:01Z\tR \\x0\n", 6, "character 3")]
    [InlineData("2026-11-25T18:40:01Z\tR\u00e9\n", 5, "character 2")]
    public void Line_that_is_no_capture_line_is_named(string body, int line, string expected)
    {
        var fault = Assert.Throws<CaptureException>(() => Read(Head + body));
        Assert.Contains($"some.txt, line {line}: ", fault.Message, StringComparison.Ordinal);
        Assert.Contains(expected, fault.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("2026-11-25T18:40:02Z\t0.80\\x0")]
    [InlineData("2026-11-2")]
    public void Last_line_that_was_cut_is_left_out(string cut) =>
        Assert.Single(Read(Head + "2026-11-25T18:40:01Z\tR 0.26\n" + cut).Chunks);

    [Theory]
    [InlineData("R 0.26\r\nR 0.27\r\n", CaptureKind.Text, 2)]
    [InlineData("R 0.26\n\n\tR 0.27", CaptureKind.Text, 2)]
    [InlineData("\u00ef\u00bb\u00bfR 0.26\n", CaptureKind.Text, 1)]
    [InlineData("R 0.26\rR 0.27\r", CaptureKind.Raw, 1)]
    [InlineData("\u0002R 0.26\u0003", CaptureKind.Raw, 1)]
    [InlineData("R \u00b0 0.26\n", CaptureKind.Raw, 1)]
    [InlineData("", CaptureKind.Text, 0)]
    public void Other_files_are_told_apart_by_their_bytes(string latin1, CaptureKind kind, int chunks)
    {
        var capture = CaptureReader.Read(Encoding.Latin1.GetBytes(latin1), "some.txt");
        Assert.Equal((kind, chunks), (capture.Kind, capture.Chunks.Length));
    }

    [Fact]
    public void Lines_of_a_text_file_get_what_the_framing_wants()
    {
        var framing = new FramingSettings { Start = 2, End = 3, LineEnd = LineEnd.Cr, IdleGap = TimeSpan.FromMilliseconds(50) };
        var chunks = Read("R 0.26\nR 0.27\n").As(framing).ToList();
        Assert.Equal("\u0002R 0.26\u0003\r"u8.ToArray(), chunks[0].Bytes);
        Assert.Equal(framing.IdleGap, chunks[1].At - chunks[0].At);
    }

    [Fact]
    public void File_that_is_not_there_is_said()
    {
        var fault = Assert.Throws<CaptureException>(() => CaptureReader.ReadFile("/nowhere/lines.txt"));
        Assert.Contains("/nowhere/lines.txt", fault.Message, StringComparison.Ordinal);
    }

    private static Capture Read(string text) => CaptureReader.Read(Encoding.UTF8.GetBytes(text), "some.txt");
}

using System.Text;
using Acquire.Instruments.Captures;
using Microsoft.Extensions.Time.Testing;

namespace Acquire.Instruments.Tests.Captures;

public sealed class CaptureWriterTests
{
    private readonly FakeTimeProvider _time = new(new DateTimeOffset(2026, 11, 25, 18, 40, 0, TimeSpan.Zero));

    [Fact]
    public void What_is_written_is_read_back_with_times_and_breaks() => Gen.Select(Gen.Byte.Array[0, 40], Gen.Int[0, 5_000_000]).List[0, 20]
        .Sample(chunks =>
    {
        using var text = new StringWriter();
        List<CaptureChunk> written = [];
        using (var capture = new CaptureWriter(text, _time, "/dev/tty\nUSB0", null, "9600 8N1"))
        {
            foreach (var (bytes, later) in chunks)
            {
                _time.Advance(TimeSpan.FromTicks(later));
                written.Add(new CaptureChunk(_time.GetUtcNow(), [.. bytes]));
                if (bytes.Length == 0)
                {
                    capture.Break();
                }

                capture.Write(bytes);
            }
        }

        var read = CaptureReader.Read(Encoding.UTF8.GetBytes(text.ToString()), "some.txt");
        Assert.Equal(("/dev/tty USB0", "none"), (read.Port, read.Profile));
        Assert.Equal(
            written.Select(c => (c.At, Convert.ToHexString([.. c.Bytes]))),
            read.Chunks.Select(c => (c.At, Convert.ToHexString([.. c.Bytes]))));
        Assert.Equal(_time.GetUtcNow(), read.EndedAt);
    }, iter: 200, threads: 1);

    [Fact]
    public void Settings_that_change_are_noted_with_a_break_and_the_last_are_in_force()
    {
        using var text = new StringWriter();
        using (var capture = new CaptureWriter(text, _time, "/dev/ttyUSB0", null, "9600 8N1"))
        {
            capture.Write("\x80\xF8"u8);
            capture.Settings("1200 8N1");
            capture.Write("0.26"u8);
        }

        var read = CaptureReader.Read(Encoding.UTF8.GetBytes(text.ToString()), "some.txt");
        Assert.Equal(("1200 8N1", "/dev/ttyUSB0"), (read.Settings, read.Port));
        Assert.Equal([false, true, false], read.Chunks.Select(c => c.IsBreak));
    }

    [Fact]
    public void System_clock_set_back_does_not_set_the_times_back()
    {
        using var text = new StringWriter();
        var jumping = new JumpingClock(_time);
        using (var capture = new CaptureWriter(text, jumping, "p", null, "s"))
        {
            jumping.Jump = TimeSpan.FromHours(-2);
            _time.Advance(TimeSpan.FromSeconds(1));
            capture.Write("a"u8);
        }

        var chunk = Assert.Single(CaptureReader.Read(Encoding.UTF8.GetBytes(text.ToString()), "some.txt").Chunks);
        Assert.Equal(_time.GetUtcNow(), chunk.At);
    }

    [Fact]
    public void File_that_is_there_is_left_alone()
    {
        var path = Path.GetTempFileName();
        try
        {
            var fault = Assert.Throws<CaptureException>(() => CaptureWriter.Create(path, _time, "p", null, "s"));
            Assert.Contains(path, fault.Message, StringComparison.Ordinal);
            Assert.Equal(0, new FileInfo(path).Length);
        }
        finally
        {
            File.Delete(path);
        }
    }

    private sealed class JumpingClock(TimeProvider inner) : TimeProvider
    {
        public TimeSpan Jump { get; set; }

        public override long TimestampFrequency => inner.TimestampFrequency;

        public override DateTimeOffset GetUtcNow() => inner.GetUtcNow() + Jump;

        public override long GetTimestamp() => inner.GetTimestamp();
    }
}

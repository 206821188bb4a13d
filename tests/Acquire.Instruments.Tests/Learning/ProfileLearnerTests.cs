using System.Text;
using Acquire.Instruments.Learning;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Tests.Learning;

/// <summary>Formats are invented; the variations are common practice of serial instruments, no source.</summary>
public class ProfileLearnerTests
{
    private static readonly string[] Usual = ["0.26 0.62 0.80", "1.26 1.74 2.01", "0.46 0.84 1.04"];

    [Theory]
    [InlineData("0.26 0.62 0.80\r\n1.26 1.74 2.01\r\n0.46 0.84 1.04\r\n", "{red} {green} {blue}")]
    [InlineData("R0.26G0.62B0.80\rR1.26G1.74B2.01\rR0.46G0.84B1.04\r", "R{red}G{green}B{blue}")]
    [InlineData("7;0,26;0,62;0,80\n8;1,26;1,74;2,01\n9;0,46;0,84;1,04", "{number};{red};{green};{blue}")]
    [InlineData(
        "12.03.2026 026 062 080\r\n12.03.2026 126 174 201\r\n12.03.2026 046 084 104\r\n",
        "{number}.{number}.{number} {red} {green} {blue}")]
    [InlineData(
        "\u0002B=0.80 G=0.62 R=0.26\u0003\u0002B=2.01 G=1.74 R=1.26\u0003\u0002B=1.04 G=0.84 R=0.46\u0003", "B={blue} G={green} R={red}")]
    [InlineData("  26  62  80\r\n 126 174 201\r\n  46  84 104\r\n", "{red:4}{green:4}{blue:4}")]
    [InlineData("T 0.26R 0.62G 0.80B\r\nT 1.26R 1.74G 2.01B\r\nT 0.46R 0.84G 1.04B\r\n", "T {red}R {green}G {blue}B")]
    [InlineData("R 0.26\r\nG 0.62\r\nB 0.80\r\nR 1.26\r\nG 1.74\r\nB 2.01\r\nR 0.46\r\nG 0.84\r\nB 1.04\r\n", "R {red}")]
    [InlineData("0.26\r\n0.62\r\n0.80\r\n1.26\r\n1.74\r\n2.01\r\n0.46\r\n0.84\r\n1.04\r\n", "{value}")]
    public void Capture_that_is_clear_gives_the_template(string capture, string template) =>
        Assert.Equal(template, Learned(capture, Usual).Profile.Rules[0].Template!.Text);

    [Theory]
    [InlineData("0.26 0.62 0.80\r\n1.26 1.74 2.01\r\n", "0.26 0.62 0.80", "1.26 1.74 2.10", "2.10")]
    [InlineData("0.26 0.26 0.80\r\n1.26 1.26 2.01\r\n", "0.26 0.26 0.80", "1.26 1.26 2.01", "red and green")]
    [InlineData("0.26 0.26 0.62 0.80\r\n1.26 1.26 1.74 2.01\r\n", "0.26 0.62 0.80", "1.26 1.74 2.01", "more than one place")]
    [InlineData("R 0.26 G 0.62 B 0.80\r\nR 1.26 G 1.74 B 2.01\r\n", "0.62 0.26 0.80", "1.74 1.26 2.01", "The line says")]
    [InlineData("0.26 0.62 0.80\r\n1.26 1.74 2.01\r\n1.26 1.74 2.01\r\n", "0.26 0.62 0.80", "1.26 1.74 2.01", "holds 3 readings")]
    [InlineData("0.26 0.62 0.80 1.26 1.74 2.01", "0.26 0.62 0.80", "1.26 1.74 2.01", "ends a line")]
    [InlineData("", "0.26 0.62 0.80", "1.26 1.74 2.01", "ends a line")]
    [InlineData("0.26 0.62 0.80\r\n", "0.26 0.62 0.80", "0.26 0.62 0.80", "Two readings")]
    public void Capture_that_is_not_clear_is_declined(string capture, string first, string second, string reason)
    {
        var declined = Assert.IsType<LearningResult.Declined>(Learn(Encoding.Latin1.GetBytes(capture), [first, second]));

        Assert.Contains(reason, string.Join(' ', declined.Reasons), StringComparison.Ordinal);
    }

    [Fact]
    public void Parity_in_the_top_bit_is_masked()
    {
        byte[] capture = [.. "0.26 0.62 0.80\r\n1.26 1.74 2.01\r\n"u8.ToArray()
            .Select(b => (byte)(b | ((System.Numerics.BitOperations.PopCount(b) & 1) << 7)))];

        var learned = Assert.IsType<LearningResult.Learned>(Learn(capture, Usual[..2]));

        Assert.True(learned.Profile.Link.MaskTopBit);
        Assert.Contains("even parity", learned.Profile.Description, StringComparison.Ordinal);
    }

    [Fact]
    public void Mark_in_place_of_a_density_is_over_range()
    {
        var learned = Learned(
            "R 0.26 G 0.62 B 0.80\r\nR 1.26 G >4.0 B 2.01\r\nR 0.46 G 0.84 B 1.04\r\n",
            ["0.26 0.62 0.80", "1.26 HI 2.01", "0.46 0.84 1.04"]);

        Assert.Equal([">4.0"], learned.Profile.Number.OverRange);
        Assert.IsType<InstrumentEvent.BeyondRange>(Replay(learned.Profile, "R >4.0 G 0.62 B 0.80\r\n"u8)[0]);
    }

    [Fact]
    public void Nines_where_the_display_showed_over_range_are_a_mark()
    {
        var learned =
            Learned("0.26 0.62 0.80\r\n1.26 9.99 2.01\r\n0.46 0.84 1.04\r\n", ["0.26 0.62 0.80", "1.26 HI 2.01", "0.46 0.84 1.04"]);

        Assert.Equal(["9.99"], learned.Profile.Number.OverRange);
    }

    [Theory]
    [InlineData("R -0.01 G 0.62 B 0.80")]
    [InlineData("R-0.01 G 0.62 B 0.80")]
    public void Minus_after_a_blank_or_in_its_place_is_read(string line)
    {
        var learned = Learned("R 0.26 G 0.62 B 0.80\r\nR 1.26 G 1.74 B 2.01\r\nR 0.46 G 0.84 B 1.04\r\n", Usual);

        var taken =
            Assert.IsType<InstrumentEvent.ReadingTaken>(Replay(learned.Profile, Encoding.Latin1.GetBytes(line + "\r\n"))[0]);
        Assert.Equal(ChannelDensities.Rgb(-0.01m, 0.62m, 0.80m), taken.Reading.Densities);
    }

    [Fact]
    public void Number_that_lost_its_first_digit_is_refused()
    {
        var learned = Learned("0.26 0.62 0.80\r\n1.26 1.74 2.01\r\n0.46 0.84 1.04\r\n", Usual);

        Assert.IsType<InstrumentEvent.UnmatchedLine>(Replay(learned.Profile, ".26 1.74 2.01\r\n"u8)[0]);
    }

    [Fact]
    public void Noise_is_declined_without_a_crash() =>
        Gen.Byte.Array[0, 300].Sample(bytes => Assert.IsType<LearningResult.Declined>(Learn(bytes, Usual)), iter: 300);

    private static LearningResult.Learned Learned(string capture, string[] shown) =>
        Assert.IsType<LearningResult.Learned>(Learn(Encoding.Latin1.GetBytes(capture), shown));

    private static LearningResult Learn(byte[] capture, string[] shown)
    {
        ImmutableArray<ShownReading> readings = [.. shown.Select(s => ShownReading.Parse(s, 3))];
        return ProfileLearner.Learn(new LearningInput(capture, readings, Channels.Colours));
    }

    private static InstrumentEvent[] Replay(DeviceProfile profile, ReadOnlySpan<byte> bytes) =>
        [.. new LineFramer(profile.Framing, profile.Link.MaskTopBit).Push(bytes, DateTimeOffset.UnixEpoch)
            .Select(new LineInterpreter(profile).Interpret)];
}

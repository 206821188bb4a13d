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
    [InlineData("0260 0620 0800\r\n1260 1740 2010\r\n0460 0840 1040\r\n", "{red} {green} {blue}")]
    [InlineData("R......0.26;G....0.62;B.....0.80\rR......1.26;G....1.74;B.....2.01\rR......0.46;G....0.84;B.....1.04\r",
        "R{leader}{red};G{leader}{green};B{leader}{blue}")]
    [InlineData("0120.26 0.62 0.80\r\n0131.26 1.74 2.01\r\n0140.46 0.84 1.04\r\n", "{number:3}{red:4} {green} {blue}")]
    [InlineData("012026062080\r\n013126174201\r\n014046084104\r\n", "{number:3}{red:3}{green:3}{blue:3}")]
    [InlineData("7,0,26,0,62,0,80\n8,1,26,1,74,2,01\n9,0,46,0,84,1,04", "{number},{red},{green},{blue}")]
    [InlineData("0.26 0.26 0.62 0.62 0.80 0.80\r1.26 1.26 1.74 1.74 2.01 2.01\r0.46 0.46 0.84 0.84 1.04 1.04\r",
        "{red} {red} {green} {green} {blue} {blue}")]
    [InlineData("0.26L 0.62M 0.80M\r1.26M 1.74H 2.01H\r0.46L 0.84M 1.04M\r", "{red}{letter} {green}{letter} {blue}{letter}")]
    [InlineData("2.60E-01 6.20E-01 8.00E-01\r1.26E+00 1.74E+00 2.01E+00\r4.60E-01 8.40E-01 1.04E+00\r", "{red} {green} {blue}")]
    [InlineData("01A 03E 050\r07E 0AE 0C9\r02E 054 068\r", "{red} {green} {blue}")]
    [InlineData("0.26\r\n0.62\r\n0.80\r\n1.26\r\n1.74\r\n2.01\r\n0.46\r\n0.84\r\n1.04\r\n", "{value}")]
    public void Capture_that_is_clear_gives_the_template(string capture, string template) =>
        Assert.Equal(template, Learned(capture, Usual).Profile.Rules[0].Template!.Text);

    /// <summary>Wherever all densities show as many digits before the point, so that one that is lost is seen.</summary>
    [Theory]
    [InlineData("0.26 0.62 0.80\r\n1.26 1.74 2.01\r\n0.46 0.84 1.04\r\n", 1)]
    [InlineData("7;0,26;0,62;0,80\n8;1,26;1,74;2,01\n9;0,46;0,84;1,04", 1)]
    [InlineData("026 062 080\r\n126 174 201\r\n046 084 104\r\n", 1)]
    [InlineData("00.26 00.62 00.80\r\n01.26 01.74 02.01\r\n00.46 00.84 01.04\r\n", 2)]
    [InlineData("R 0.26\r\nG 0.62\r\nB 0.80\r\nR 1.26\r\nG 1.74\r\nB 2.01\r\nR 0.46\r\nG 0.84\r\nB 1.04\r\n", 1)]
    [InlineData(".26 .62 .80\r\n1.26 1.74 2.01\r\n.46 .84 1.04\r\n", null)]
    public void Digits_before_the_point_are_learned_where_they_are_always_as_many(string capture, int? digits) =>
        Assert.Equal(digits, Learned(capture, Usual).Profile.Number.WholeDigits);

    [Theory]
    [InlineData("0.26 0.62 0.80\r\n1.26 1.74 2.01\r\n", "0.26 0.62 0.80", "1.26 1.74 2.10", "2.10")]
    [InlineData("0.26 0.26 0.80\r\n1.26 1.26 2.01\r\n", "0.26 0.26 0.80", "1.26 1.26 2.01", "red and green")]
    [InlineData("0.26 0.26 0.62 0.80\r\n1.26 1.26 1.74 2.01\r\n", "0.26 0.62 0.80", "1.26 1.74 2.01", "more than one place")]
    [InlineData("R 0.26 G 0.62 B 0.80\r\nR 1.26 G 1.74 B 2.01\r\n", "0.62 0.26 0.80", "1.74 1.26 2.01", "The line says")]
    [InlineData("0.26 0.62 0.80\r\n1.26 1.74 2.01\r\n1.26 1.74 2.01\r\n", "0.26 0.62 0.80", "1.26 1.74 2.01", "holds 3 readings")]
    [InlineData("0.26 0.62 0.80 1.26 1.74 2.01", "0.26 0.62 0.80", "1.26 1.74 2.01", "ends a line")]
    [InlineData("", "0.26 0.62 0.80", "1.26 1.74 2.01", "ends a line")]
    [InlineData("0.2649 0.6251 0.8000\r1.2651 1.7451 2.0149\r", "0.26 0.62 0.80", "1.27 1.74 2.01", "neither always the nearest")]
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
    public void Digits_that_the_display_does_not_show_are_kept()
    {
        var learned =
            Learned("0.2612 0.6249 0.7951\r\n1.2580 1.7391 2.0102\r\n0.4631 0.8378 1.0449\r\n", ["0.26 0.62 0.80", "1.26 1.74 2.01",
            "0.46 0.84 1.04"]);

        Assert.Equal(ChannelDensities.Rgb(0.3333m, 0.6250m, 0.8001m), Densities(learned, "0.3333 0.6250 0.8001\r\n"));
        Assert.Contains("more decimals than the display", learned.Profile.Description, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("0260 0620 0800\r1260 1740 2010\r0460 0840 1040\r", "0330 0990 -0020\r", "0335 0990 0020\r")]
    [InlineData("2.60E-01 6.20E-01 8.00E-01\r1.26E+00 1.74E+00 2.01E+00\r4.60E-01 8.40E-01 1.04E+00\r", "3.30E-01 9.90E-01 -2.00E-02\r",
        "3.35E-01 9.90E-01 2.00E-02\r")]
    [InlineData("01A 03E 050\r07E 0AE 0C9\r02E 054 068\r", "021 063 -002\r", "21 063 002\r")]
    [InlineData("0.26 0.26 0.62 0.62 0.80 0.80\r1.26 1.26 1.74 1.74 2.01 2.01\r0.46 0.46 0.84 0.84 1.04 1.04\r",
        "0.33 0.33 0.99 0.99 -0.02 -0.02\r", "0.33 0.34 0.99 0.99 -0.02 -0.02\r")]
    [InlineData("0.26L 0.62M 0.80M\r1.26M 1.74H 2.01H\r0.46L 0.84M 1.04M\r", "0.33L 0.99M -0.02L\r", "0.33 0.99M -0.02L\r")]
    public void Rare_way_of_writing_is_read_with_two_decimals_and_refused_when_it_contradicts_itself(
        string capture, string good, string bad)
    {
        var learned = Learned(capture, Usual);

        Assert.Equal("R 0.33 G 0.99 B -0.02", Densities(learned, good).ToString());
        Assert.IsType<InstrumentEvent.UnmatchedLine>(Replay(learned.Profile, Encoding.Latin1.GetBytes(bad))[0]);
    }

    [Fact]
    public void Noughts_on_a_few_lines_do_not_settle_that_they_always_are()
    {
        var input = new LearningInput(
            "0260\r1260\r"u8.ToArray(), [ShownReading.Parse("0.26", 1), ShownReading.Parse("1.26", 1)], [Channel.Visual]);

        Assert.Contains(
            "Read more patches", Assert.IsType<LearningResult.Declined>(ProfileLearner.Learn(input)).Reasons[0], StringComparison.Ordinal);
    }

    private static ChannelDensities Densities(LearningResult.Learned learned, string line) =>
        Assert.IsType<InstrumentEvent.ReadingTaken>(Replay(learned.Profile, Encoding.Latin1.GetBytes(line))[0]).Reading.Densities;

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

using System.Text;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Tests.Profiles;

namespace Acquire.Instruments.Tests.Lines;

public sealed class LineWriterTests
{
    private static readonly ChannelDensities Densities = ChannelDensities.Rgb(0.255m, -0.004m, 4.5m);

    [Theory]
    [InlineData("labelled-line", "R 0.26 G 0.00 B 4.50\r\n")]
    [InlineData("rgb-columns", "0.26 0.00 4.50\r\n")]
    [InlineData("fixed-width", "\u0002 026 000 450\u0003")]
    [InlineData("channel-lines-labelled", "R= 0.26\r|G= 0.00\r|B= 4.50\r")]
    [InlineData("channel-lines-plain", "0.26\n|0.00\n|4.50\n")]
    [InlineData("decimal-comma", "1;0,26;0,00;4,50\r\n")]
    [InlineData("pause-ended-line", "R0.26G0.00B4.50")]
    public void Reading_is_rounded_signed_and_ended_in_the_profile_s_way(string profile, string expected) =>
        Assert.Equal(expected, Text(new LineWriter(ShippedProfiles.Get(profile)).WriteReading(Densities)));

    [Theory]
    [InlineData("labelled-line", "R 0.26 G >4.0 B 4.50\r\n")]
    [InlineData("fixed-width", "\u0002 026  HI 450\u0003")]
    [InlineData("channel-lines-plain", "0.26\n|HI\n|4.50\n")]
    public void Beyond_range_puts_the_mark_in_the_channel_s_place(string profile, string expected) =>
        Assert.Equal(expected, Text(new LineWriter(ShippedProfiles.Get(profile)).WriteBeyondRange(Densities, Channel.Green)));

    [Fact]
    public void Density_too_wide_for_its_place_is_over_range_or_refused()
    {
        var profile = ShippedProfiles.Get("fixed-width");
        var threeDecimals = profile.Number with { Decimals = 3 };
        var wide = ChannelDensities.Rgb(10m, 1.234m, -1.234m);
        Assert.Equal("\u0002  HI1234  HI\u0003", Text(new LineWriter(profile with { Number = threeDecimals }).WriteReading(wide)));
        Assert.Throws<ArgumentException>(
            () => new LineWriter(profile with { Number = threeDecimals with { OverRange = [] } }).WriteReading(wide));
    }

    [Fact]
    public void Profile_without_marks_or_rules_writes_nothing_for_them()
    {
        var writer = new LineWriter(ProfileTexts.Read(ProfileTexts.Small));
        Assert.Empty(writer.WriteError());
        Assert.Empty(writer.WriteBeyondRange(Densities, Channel.Red));
    }

    private static string Text(IEnumerable<byte[]> lines) => string.Join('|', lines.Select(Encoding.Latin1.GetString));
}

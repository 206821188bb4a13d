using Acquire.Instruments.Links;

namespace Acquire.Instruments.Tests.Links;

public sealed class SettingsTests
{
    [Fact]
    public void Refused_parity_of_seven_bits_is_read_as_eight_and_masked()
    {
        var (settings, notice) = ParityFallback.For("COM3", new LinkSettings { DataBits = 7, Parity = LineParity.Space });

        Assert.Equal(new LinkSettings { DataBits = 8, Parity = LineParity.None, MaskTopBit = true }, settings);
        Assert.Contains("COM3 cannot take 7 data bits with space parity", notice, StringComparison.Ordinal);
    }

    [Fact]
    public void Refused_mark_parity_of_eight_bits_is_read_as_two_stop_bits()
    {
        var (settings, _) = ParityFallback.For("COM3", new LinkSettings { Parity = LineParity.Mark });

        Assert.Equal(new LinkSettings { StopBits = 2 }, settings);
    }

    [Theory]
    [InlineData(LineParity.Space)]
    [InlineData(LineParity.Even)]
    public void Refused_parity_of_eight_bits_has_no_way_round(LineParity parity) => Assert.Equal(
        LinkFault.BadSettings,
        Assert.Throws<LinkException>(() => ParityFallback.For("COM3", new LinkSettings { Parity = parity })).Fault);

    [Theory]
    [InlineData(50, 7, 1)]
    [InlineData(4_000_000, 8, 2)]
    public void Settings_at_their_bounds_are_taken(int baud, int dataBits, int stopBits) =>
        SettingsCheck.Demand(new LinkSettings { Baud = baud, DataBits = dataBits, StopBits = stopBits });

    [Fact]
    public void Wrong_settings_are_all_named()
    {
        var e = Assert.Throws<LinkException>(() => SettingsCheck.Demand(
            new LinkSettings { Baud = 49, DataBits = 9, StopBits = 3, SettleAfterOpen = TimeSpan.FromMinutes(2) }));

        Assert.Equal(
            "The line cannot be set so: 49 baud; expected 50 to 4000000; 9 data bits; expected 7 or 8; 3 stop bits; expected 1 or 2; "
            + "a settling time of 00:02:00; expected 0 to 1 minute.",
            e.Message);
    }
}

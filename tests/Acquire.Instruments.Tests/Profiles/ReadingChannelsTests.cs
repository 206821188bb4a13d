using Acquire.Instruments.ProfileFiles;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Tests.Profiles;

public class ReadingChannelsTests
{
    private const string Template = "{ \"template\": \"R {red} G {green} B {blue}\", \"means\": \"reading\" }";
    private const string Sample =
        "{ \"lines\": [\"R 0.26 G 0.62 B 0.80\"], \"gives\": { \"red\": 0.26, \"green\": 0.62, \"blue\": 0.80 } }";

    [Theory]
    [InlineData("labelled-line", "RGB")]
    [InlineData("vrgb-columns", "RGBV")]
    [InlineData("channel-lines-plain", "RGB")]
    [InlineData("channel-lines-labelled", "RGB")]
    public void Always_of_a_shipped_profile_are_those_of_its_readings(string profile, string channels) =>
        Assert.Equal(channels, Letters(new ProfileLibrary(null).Find(profile)));

    [Fact]
    public void Always_of_a_black_and_white_instrument_is_visual() => Assert.Equal("V", Letters(Profile(
        """{ "template": "V {visual}", "means": "reading" }""", """{ "lines": ["V 0.70"], "gives": { "visual": 0.70 } }""")));

    [Fact]
    public void Always_of_an_instrument_with_a_mode_for_each_is_none() => Assert.Empty(Letters(Profile(
        Template + """, { "template": "V {visual}", "means": "reading" }""",
        Sample + """, { "lines": ["V 0.70"], "gives": { "visual": 0.70 } }""")));

    [Fact]
    public void Always_leaves_out_a_channel_that_a_sample_shows_to_be_absent_at_times() => Assert.Equal("R", Letters(Profile(
        """{ "pattern": "R (?<red>[0-9.]+)( V (?<visual>[0-9.]+))?", "means": "reading" }""",
        """{ "lines": ["R 0.26 V 0.70"], "gives": { "red": 0.26, "visual": 0.70 } }, { "lines": ["R 0.26"], "gives": { "red": 0.26 } }""")));

    private static DeviceProfile Profile(string rules, string samples) => ProfileTexts.Read(
        ProfileTexts.With(Template, rules).Replace(Sample, samples, StringComparison.Ordinal));

    private static string Letters(DeviceProfile profile) => string.Concat(ReadingChannels.Always(profile).Select(c => c.Letter()));
}

using static Acquire.Domain.Tests.Assertions;

namespace Acquire.Domain.Tests.Densitometry;

public class ChannelTests
{
    [Theory]
    [InlineData("red", Channel.Red)]
    [InlineData("g", Channel.Green)]
    [InlineData("BLUE", Channel.Blue)]
    [InlineData("V", Channel.Visual)]
    public void Channel_is_found_by_word_or_letter_in_any_case(string text, Channel channel) => Assert.Equal(channel, Channels.Parse(text));

    [Theory]
    [InlineData("cyan")]
    [InlineData("")]
    [InlineData(null)]
    [InlineData("0")]
    public void Unknown_channel_is_refused_with_what_was_expected(string? text) =>
        Refused("expected red, green, blue or visual", () => Channels.Parse(text));

    [Fact]
    public void Every_channel_is_found_by_its_own_names() => Assert.All(
        Channels.All, c => Assert.Equal((c, c), (Channels.Parse(c.Word()), Channels.Parse(c.Letter()))));

    [Fact]
    public void Densities_are_given_by_channel()
    {
        var densities = ChannelDensities.Rgb(0.26m, 0.62m, 0.80m);

        Assert.Equal(Channels.Colours, densities.Present);
        Assert.Equal(new Density(0.62m), densities[Channel.Green]);
        Assert.Null(densities[Channel.Visual]);
        Assert.Equal("R 0.26 G 0.62 B 0.80", densities.ToString());
    }

    [Fact]
    public void Densities_of_pairs_are_those_of_the_pairs() => Assert.Equal(
        new ChannelDensities(null, new Density(0.5m), null, new Density(0.4m)),
        ChannelDensities.Of([new(Channel.Visual, new Density(0.4m)), new(Channel.Green, new Density(0.5m))]));

    [Fact]
    public void Densities_of_nothing_are_refused()
    {
        Refused("one channel at least", () => new ChannelDensities(null, null, null));
        Refused("one channel at least", () => ChannelDensities.Of([]));
    }

    [Fact]
    public void Densities_of_one_channel_twice_are_refused() => Refused(
        "The channel 'red' is named twice.",
        () => ChannelDensities.Of([new(Channel.Red, new Density(0.4m)), new(Channel.Red, new Density(0.5m))]));

    [Fact]
    public void Reading_without_lines_was_entered()
    {
        var entered = Reading.Entered(ChannelDensities.Rgb(0, 0, 0), Some.Time);

        Assert.True(entered.IsEntered);
        Assert.True((entered with { Lines = default }).IsEntered);
        Assert.False((entered with { Lines = [RawLine.OfText("0.00", Some.Time)] }).IsEntered);
    }

    [Fact]
    public void Raw_line_is_shown_with_its_odd_bytes_as_hexadecimal()
    {
        ImmutableArray<byte> bytes = [.. "D 0.26\\"u8, 0x00, 0x7F, 0xE9];

        Assert.Equal(@"D 0.26\x5C\x00\x7F\xE9", new RawLine(bytes, Some.Time).Text);
    }
}

using Acquire.Instruments.Links;

namespace Acquire.Instruments.Tests.Links;

public class LinkWordsTests
{
    [Fact]
    public void Every_setting_is_read_back_from_its_words() =>
        Gen.Select(Gen.Int[1, 4_000_000], Gen.Int[7, 8], Gen.Enum<LineParity>(), Gen.Int[1, 2]).Sample((baud, data, parity, stop) =>
        {
            var settings = new LinkSettings { Baud = baud, DataBits = data, Parity = parity, StopBits = stop };
            Assert.Equal(settings, LinkWords.TryParse(LinkWords.Of(settings)));
        });

    [Theory]
    [InlineData(null)]
    [InlineData("")]
    [InlineData("none")]
    [InlineData("0 8N1")]
    [InlineData("9600")]
    [InlineData("9600 9N1")]
    [InlineData("9600 8X1")]
    [InlineData("9600 8N3")]
    [InlineData("9600 8N1 ")]
    [InlineData("-1 8N1")]
    public void Other_text_is_none(string? text) => Assert.Null(LinkWords.TryParse(text));
}

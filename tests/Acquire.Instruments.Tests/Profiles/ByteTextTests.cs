using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Tests.Profiles;

public sealed class ByteTextTests
{
    /// <summary>Codes and names from ISO/IEC 646 (ECMA-6, table 1; ECMA-48, section 8.3).</summary>
    [Theory]
    [Trait("Source", "ISO/IEC 646")]
    [InlineData("READ<CR>", "524541440D")]
    [InlineData("<ESC>R<CR><LF>", "1B520D0A")]
    [InlineData("<STX>M<ETX>", "024D03")]
    [InlineData("<NUL><SOH><EOT><ENQ><ACK><BEL><BS><HT><VT><FF><SO><SI>", "0001040506070809" + "0B0C0E0F")]
    [InlineData("<DLE><DC1><DC2><DC3><DC4><NAK><SYN><ETB><CAN><EM><SUB>", "101112131415161718191A")]
    [InlineData("<FS><GS><RS><US><DEL>", "1C1D1E1F7F")]
    [InlineData("<0x1b><0xFF>", "1BFF")]
    [InlineData("a << b > c", "61203C2062203E2063")]
    [InlineData("M\r", "4D0D")]
    public void Text_stands_for_these_bytes(string text, string hex) =>
        Assert.Equal(hex, Convert.ToHexString(ByteText.Parse(text).AsSpan()));

    [Theory]
    [InlineData("READ<CR", 5, "is not closed")]
    [InlineData("READ<", 5, "is not closed")]
    [InlineData("<cr>", 1, "'<cr>' is no byte; expected the name of a control character")]
    [InlineData("M<>", 2, "'<>' is no byte")]
    [InlineData("<0x1>", 1, "is no byte")]
    [InlineData("<0x1BB>", 1, "is no byte")]
    [InlineData("<0x+1>", 1, "is no byte")]
    [InlineData("M\u00E4", 2, "is no ASCII character; expected one, or a byte such as <0xE4>")]
    public void Wrong_text_is_refused_with_its_place(string text, int character, string problem)
    {
        var fault = Assert.Throws<FormatException>(() => ByteText.Parse(text));
        Assert.Contains($"character {character}: ", fault.Message, StringComparison.Ordinal);
        Assert.Contains(problem, fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_byte_string_comes_back_from_its_text_which_is_plain_ASCII() =>
        Gen.Byte.Array[0, 40].Sample(bytes =>
        {
            var text = ByteText.Of(bytes);
            Assert.Equal(bytes, ByteText.Parse(text));
            Assert.DoesNotContain(text, c => c is < ' ' or > '~');
        });

    [Fact]
    public void Any_text_is_bytes_whose_own_text_means_the_same_or_is_refused_with_a_place_in_it() =>
        Gen.OneOf(Gen.Char["<>0xCRLFSTX1b\r\u00E4 "], Gen.Char).Array[0, 12].Select(c => new string(c)).Sample(text =>
        {
            try
            {
                var bytes = ByteText.Parse(text);
                Assert.Equal(bytes, ByteText.Parse(ByteText.Of(bytes.AsSpan())));
            }
            catch (FormatException fault)
            {
                var rest = fault.Message.AsSpan(fault.Message.LastIndexOf(", character ", StringComparison.Ordinal) + 12);
                Assert.InRange(int.Parse(rest[..rest.IndexOf(':')], CultureInfo.InvariantCulture), 1, text.Length);
            }
        });
}

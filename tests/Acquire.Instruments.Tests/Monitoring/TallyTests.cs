using System.Text;
using Acquire.Instruments.Monitoring;

namespace Acquire.Instruments.Tests.Monitoring;

public sealed class TallyTests
{
    private const string Text = "R 0.26 G 0.62 B 0.80\r\nR 0.46 G 0.84 B 1.04\r\n";

    [Theory]
    [InlineData("a\r\nb\r\nc\r", 2, 0, 1, 0)]
    [InlineData("a\n\rb\n\r", 0, 2, 0, 0)]
    [InlineData("a\rb\r\rc", 0, 0, 3, 0)]
    [InlineData("a\nb\n\n", 0, 0, 0, 3)]
    [InlineData("\r\n\r\n", 2, 0, 0, 0)]
    public void Line_ends_are_counted_however_the_bytes_are_cut(string text, int crlf, int lfcr, int cr, int lf)
    {
        for (var cut = 0; cut <= text.Length; cut++)
        {
            var tally = new ByteTally();
            tally.Add(Encoding.ASCII.GetBytes(text[..cut]));
            tally.Add(Encoding.ASCII.GetBytes(text[cut..]));
            Assert.Equal((crlf, lfcr, cr, lf), (tally.CrLf, tally.LfCr, tally.Cr, tally.Lf));
        }
    }

    /// <summary>
    /// Even parity: the bits of a character and its parity bit together hold an even number of ones (definition in ITU-T V.4).
    /// </summary>
    [Theory]
    [Trait("Source", "ITU-T V.4")]
    [InlineData("none", "the settings fit")]
    [InlineData("even", "--data-bits 7 --parity even")]
    [InlineData("odd", "--data-bits 7 --parity odd")]
    [InlineData("mark", "--data-bits 7 --parity mark")]
    [InlineData("space", "the settings fit")]
    [InlineData("wrong rate", "Try another --baud")]
    public void Top_bits_tell_the_parity(string sent, string expected)
    {
        var tally = new ByteTally();
        tally.Add([.. Encoding.ASCII.GetBytes(Text).Select(b => WithParity(b, sent))]);
        Assert.Contains(expected, TallyWords.Parity(tally), StringComparison.Ordinal);
        Assert.Equal(sent == "wrong rate", !TallyWords.LineEnds(tally).Contains("CR LF 2 times", StringComparison.Ordinal));
    }

    [Fact]
    public void Few_bytes_say_nothing() => Assert.Contains("too few", TallyWords.Parity(new ByteTally()), StringComparison.Ordinal);

    private static byte WithParity(byte b, string parity)
    {
        var ones = Convert.ToString(b, 2).Count(c => c == '1') % 2;
        return parity switch
        {
            "even" => (byte)(b | ones << 7),
            "odd" => (byte)(b | (1 - ones) << 7),
            "mark" => (byte)(b | 0x80),
            "wrong rate" => (byte)(b * 37 >> 2),
            _ => b,
        };
    }
}

using Acquire.Formats.Csv;

namespace Acquire.Formats.Tests.Csv;

public sealed class CellTextTests
{
    [Theory]
    [Trait("Source", "OWASP, CSV Injection: list of beginnings (from memory); CWE-1236: apostrophe in front; ASVS 1.2.10: NUL too")]
    [InlineData("=1+1", "'=1+1")]
    [InlineData("=HYPERLINK(\"x\",\"y\")", "'=HYPERLINK(\"x\",\"y\")")]
    [InlineData("+SUM(A1)", "'+SUM(A1)")]
    [InlineData("-2+3+cmd|' /C calc'!A0", "'-2+3+cmd|' /C calc'!A0")]
    [InlineData("@SUM(A1)", "'@SUM(A1)")]
    [InlineData("\t=1", "'\t=1")]
    [InlineData("\r=1", "'\r=1")]
    [InlineData("\n=1", "'\n=1")]
    [InlineData("\0=1", "'\0=1")]
    [InlineData("＝1+1", "'＝1+1")]
    [InlineData("'quoted", "''quoted")]
    [InlineData("-", "'-")]
    [InlineData("-0.03\n=1", "'-0.03\n=1")]
    public void Defused_formula_gets_an_apostrophe(string text, string expected) => Assert.Equal(expected, CellText.Defused(text));

    [Theory]
    [InlineData("-0.03")]
    [InlineData("+12")]
    [InlineData("dip tank")]
    [InlineData("a=b")]
    [InlineData("")]
    [InlineData(null)]
    public void Defused_plain_text_or_number_stays(string? text) => Assert.Equal(text, CellText.Defused(text));

    [Fact]
    public void Defused_any_text_comes_back_by_taking_one_apostrophe_away() => Gen.OneOf(
        Gens.Text, Gens.Text.Select(t => t[1..]), Gens.Text.Select(t => "'" + t[1..]), Gen.String).Sample(text =>
        {
            var cell = CellText.Defused(text)!;
            Assert.Equal(text, cell.StartsWith('\'') ? cell[1..] : cell);
        });

    [Theory]
    [InlineData(-0.03, "-0.03")]
    [InlineData(-0.0, "0")]
    [InlineData(0.1 + 0.2, "0.30000000000000004")]
    [InlineData(double.NaN, null)]
    [InlineData(double.PositiveInfinity, null)]
    public void Number_round_trips_or_is_empty(double value, string? expected) => Assert.Equal(expected, CellText.Number(value));
}

using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Tests.Profiles;

public sealed class LineTemplateTests
{
    [Fact]
    public void Parse_gives_parts_in_order()
    {
        var template = LineTemplate.Parse("  No. {number} {{R}} {red:5}{green} {skip}END ");
        TemplatePart[] expected =
        [
            new TemplatePart.Literal("No."), new TemplatePart.Blanks(), new TemplatePart.Number(null), new TemplatePart.Blanks(),
            new TemplatePart.Literal("{R}"), new TemplatePart.Literal(" "), new TemplatePart.ChannelValue(Channel.Red, 5),
            new TemplatePart.ChannelValue(
                Channel.Green, null), new TemplatePart.Blanks(), new TemplatePart.Skip(), new TemplatePart.Literal("END"),
        ];
        Assert.Equal(expected, template.Parts);
    }

    [Theory]
    [InlineData("R {redd}", 3, "expected {red}, {green}, {blue}, {visual}, {value}, {word}, {number}, {letter}, {leader} or {skip}")]
    [InlineData("R {Red}", 3, "is no place")]
    [InlineData("R {r}", 3, "is no place")]
    [InlineData("R {red", 3, "not closed")]
    [InlineData("R red}", 6, "closing brace")]
    [InlineData("R {red:0}", 3, "expected 1 to 64")]
    [InlineData("R {red:x}", 3, "expected 1 to 64")]
    [InlineData("{skip:3}", 1, "takes no width")]
    [InlineData("", 1, "empty")]
    [InlineData("   ", 1, "empty")]
    [InlineData("{red}{green}", 1, "side by side")]
    [InlineData("{word}{red:4}", 1, "side by side")]
    [InlineData("{skip}{red}", 1, "where to stop")]
    [InlineData("{skip} {red}", 1, "where to stop")]
    [InlineData("{skip} {red:4}", 1, "where to stop")]
    [InlineData("{letter:2}", 1, "takes no width")]
    [InlineData("{word}{letter}", 1, "side by side")]
    [InlineData("{value} {red}", 1, "one or the other")]
    [InlineData("R \u2212 {red}", 3, "no single byte")]
    public void Parse_of_a_template_that_cannot_work_says_where_and_why(string text, int position, string why)
    {
        var fault = Assert.Throws<TemplateException>(() => LineTemplate.Parse(text));
        Assert.Contains($"character {position}:", fault.Message, StringComparison.Ordinal);
        Assert.Contains(why, fault.Message, StringComparison.Ordinal);
    }
}

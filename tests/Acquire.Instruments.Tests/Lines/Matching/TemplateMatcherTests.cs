using System.Text;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Tests.Lines.Matching;

public sealed class TemplateMatcherTests
{
    private static readonly NumberFormat Format = new() { OverRange = [">4.0", "HI", "H", "----", "*.**", "9.99"] };

    /// <summary>Ways of writing a density; source: common practice of serial instruments, no source for densitometers.</summary>
    public static TheoryData<NumberFormat, string, string?> Numbers()
    {
        var point = new NumberFormat();
        var always = point with { Sign = SignHabit.Always };
        var minusOnly = point with { Sign = SignHabit.MinusOnly };
        var blank = point with { Sign = SignHabit.BlankForPlus };
        var any = point with { Decimals = null };
        var comma = point with { DecimalMark = DecimalMark.Comma };
        var implied = point with { DecimalMark = DecimalMark.Implied };
        return new()
        {
            { point, "0.26", "0.26" }, { point, ".26", "0.26" }, { point, "-.01", "-0.01" }, { point, "+0.02", "0.02" },
            { point, "0.20", "0.20" }, { point, "-0.00", "0.00" }, { point, "10.00", "10.00" }, { point, "D 0.26", null },
            { point, "10.01", null }, { point, "-2.01", null }, { point, "100.00", null }, { point, "0.2", null }, { point, "0.262", null },
            { point, "0", null }, {
                point,
                "26",
                null }, { point, ".", null }, { point, "-", null }, { point, "0,26", null }, { point, "0.2x", null },
            { always, "+0.02", "0.02" }, { always, "-0.02", "-0.02" }, { always, "0.02", null },
            { minusOnly, "0.02", "0.02" }, { minusOnly, "-0.02", "-0.02" }, { minusOnly, "+0.02", null },
            { blank, "0.02", "0.02" }, { blank, "-0.02", "-0.02" }, { blank, "+0.02", null },
            { any, "1", "1" }, { any, "0.262", "0.262" }, { any, "0.1234567", null }, { any, "1.", null }, { any, "00000000001.26", null },
            { comma, "0,26", "0.26" }, { comma, ",26", "0.26" }, { comma, "0.26", null },
            { implied, "026", "0.26" }, {
                implied,
                "0126",
                "1.26" }, { implied, "-001", "-0.01" }, { implied, "26", null }, { implied, "9999", null },
            { implied, "99999999999999999999", null },
        };
    }

    [Theory]
    [MemberData(nameof(Numbers))]
    public void Number_is_read_in_the_profile_s_way_only(NumberFormat format, string text, string? expected)
    {
        var match = Match("{red}", format, text);
        Assert.Equal(expected, match.Fits ? match.Density(0).ToString() : null);
    }

    [Theory]
    [InlineData("=0.26", true)]
    [InlineData("= 0.26", true)]
    [InlineData("=-0.26", true)]
    [InlineData("=  0.26", false)]
    public void Number_with_a_blank_for_plus_takes_one_blank(string text, bool fits) =>
        Assert.Equal(fits, Match("={red}", new NumberFormat { Sign = SignHabit.BlankForPlus }, text).Fits);

    [Theory]
    [InlineData(">4.0", true)]
    [InlineData("HI", true)]
    [InlineData("H", true)]
    [InlineData("----", true)]
    [InlineData("*.**", true)]
    [InlineData("9.99", true)]
    [InlineData(">4.05", false)]
    [InlineData("-----", false)]
    [InlineData("HIGH", false)]
    public void Mark_stands_in_the_place_of_a_number(string text, bool beyond)
    {
        var match = Match("{red}", Format, text);
        Assert.Equal(beyond, match.Fits && match.IsBeyond(0));
    }

    [Theory]
    [InlineData("{red:5}{green:5}", " 0.26 0.62", true)]
    [InlineData("{red:5}{green:5}", "0.26 0.62 ", true)]
    [InlineData("{red:5}{green:5}", "-0.01  .62", true)]
    [InlineData("{red:5}{green:5}", " 0.26 0.6", false)]
    [InlineData("{red:5}{green:5}", "  .26   HI", true)]
    [InlineData("{red:5}{green:5}", " 0.26     ", false)]
    [InlineData("{red:5}{green:5}", "  .2  0.62", false)]
    [InlineData("{red:6}{green:5}", "  .26  0.62", false)]
    [InlineData("{red:5} {green:5}", " 0.26  0.62", true)]
    [InlineData("R {red:5}", "R  0.26", true)]
    [InlineData("R {red:5}", "R 0.26", false)]
    [InlineData("{word:3} {red}", "abc 0.26", true)]
    [InlineData("{word:3} {red}", "    0.26", false)]
    [InlineData("{number:4} {red}", " 012 0.26", true)]
    [InlineData("{number:4} {red}", " a12 0.26", false)]
    [InlineData("  R  {red}  ", "\tR \t0.26\t", true)]
    [InlineData("R {red}", "R0.26", false)]
    [InlineData("R {red}", "R 0.26 D", false)]
    [InlineData("R {red}", "r 0.26", false)]
    [InlineData("{word}: {red}", "No:7: 0.26", false)]
    [InlineData("{word}: {red}", "No: 0.26", true)]
    [InlineData("{word} {red}", "ID-7 0.26", true)]
    [InlineData("{number}.{number} {red}", "25.11 0.26", true)]
    [InlineData("{number} {red}", "+12.5 0.26", true)]
    [InlineData("{number} {red}", "x 0.26", false)]
    [InlineData("{skip}R {red}", "12:30 M R 0.26", true)]
    [InlineData("{skip} R {red}", "ERR R 0.26", true)]
    [InlineData("{skip} R {red}", "ERR 0.26", false)]
    [InlineData("{skip}R {red}", "R 0.26", true)]
    [InlineData("R {red} {skip}", "R 0.26 and so on", true)]
    [InlineData("{red},{green}", "0.26,0.62", true)]
    [InlineData("{{{red}}}", "{0.26}", true)]
    public void Template_fits_a_line_or_not(string template, string line, bool fits) =>
        Assert.Equal(fits, Match(template, Format, line).Fits);

    [Theory]
    [InlineData("R {red} G {green}", "R 0.26 G 0.6", 12, "2 decimals")]
    [InlineData("R {red} G {green}", "R 0.262 G 0.62", 6, "2 decimals")]
    [InlineData("R {red} G {green}", "R 0.26 B 0.62", 7, "'G'")]
    [InlineData("R {red} G {green}", "R 0.26", 6, "a blank")]
    [InlineData("R {red}", "R 0.26 x", 7, "the end of the line")]
    [InlineData("R {red}", "R 12", 4, "a decimal point")]
    [InlineData("R {red}", "R xx", 2, "a number")]
    [InlineData("R {red}", "R 11.00", 2, "a density from -2 to 10")]
    public void Misfit_says_where_and_what_was_expected(string template, string line, int offset, string expected)
    {
        var match = Match(template, new NumberFormat(), line);
        Assert.Equal((offset, expected), (match.Offset, match.Expected));
    }

    [Fact]
    public void Match_allocates_nothing()
    {
        var matcher = new TemplateMatcher(LineTemplate.Parse("{skip}R {red} G {green:5} B {blue}"), Format);
        var line = "No. 12 R 0.26 G  0.62 B >4.0"u8.ToArray();
        var misfit = "No. 12 R 0.26 G  0.6x B >4.0"u8.ToArray();
        Assert.True(matcher.Match(line).Fits);
        var before = GC.GetAllocatedBytesForCurrentThread();
        for (var i = 0; i < 1000; i++)
        {
            _ = matcher.Match(line);
            _ = matcher.Match(misfit);
        }

        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
    }

    [Theory]
    [InlineData(@"(?<red>\S+)/(?<green>\S+)", "0.26/0.62", true)]
    [InlineData(@"(?<red>\S+)/(?<green>\S+)", " 0.26/HI ", true)]
    [InlineData(@"(?<red>\S+)/(?<green>\S+)", "0.26/0.6", false)]
    [InlineData(@"(?<red>\S+)/(?<green>\S+)", "0.26/0.62/1", false)]
    [InlineData(@"a|b", "ab", false)]
    public void Pattern_fits_the_whole_line_or_not(string pattern, string line, bool fits) =>
        Assert.Equal(fits, new PatternMatcher(pattern, Format).Match(Encoding.Latin1.GetBytes(line)).Fits);

    private static LineMatch Match(string template, NumberFormat format, string line) =>
        new TemplateMatcher(LineTemplate.Parse(template), format).Match(Encoding.Latin1.GetBytes(line));
}

using System.Text;
using Acquire.Instruments.Learning;
using Acquire.Instruments.Lines;
using Acquire.Instruments.ProfileFiles;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Tests.Profiles;

/// <summary>The words of a profile for numbers that few instruments write. The ways are common practice of serial instruments, no source;
/// the values are reckoned by hand.</summary>
public sealed class NumberWordsTests
{
    [Theory]
    [InlineData("\"decimalMark\": \"implied\", \"decimals\": 3, \"shownDecimals\": 2", "0260", "0.26")]
    [InlineData("\"decimalMark\": \"implied\", \"decimals\": 3, \"shownDecimals\": 2", "0265", null)]
    [InlineData("\"decimals\": 4, \"shownDecimals\": 2, \"rounding\": \"nearest\"", "0.2650", "0.27")]
    [InlineData("\"decimals\": 4, \"shownDecimals\": 2, \"rounding\": \"nearest\"", "-0.0049", "0.00")]
    [InlineData("\"decimals\": 4, \"shownDecimals\": 2, \"rounding\": \"cut\"", "0.2699", "0.26")]
    [InlineData("\"decimals\": 4", "0.2699", "0.2699")]
    [InlineData("\"exponentDigits\": 2", "2.61E-01", "0.261")]
    [InlineData("\"exponentDigits\": 2, \"shownDecimals\": 2", "1.26E+00", "1.26")]
    [InlineData("\"exponentDigits\": 2, \"shownDecimals\": 2", "0.40E+01", "4.00")]
    [InlineData("\"exponentDigits\": 2, \"shownDecimals\": 2", "4.00E-02", "0.04")]
    [InlineData("\"exponentDigits\": 2, \"shownDecimals\": 2", "-0.00E+00", "0.00")]
    [InlineData("\"exponentDigits\": 2, \"shownDecimals\": 2", "4.00E+02", null)]
    [InlineData("\"exponentDigits\": 2, \"shownDecimals\": 2", "4.00E-99", null)]
    [InlineData("\"exponentDigits\": 2, \"shownDecimals\": 2", "4.00E-2", null)]
    [InlineData("\"exponentDigits\": 2", "2.61", null)]
    [InlineData("\"base\": 16, \"decimalMark\": \"implied\", \"wholeDigits\": 1", "01A", "0.26")]
    [InlineData("\"base\": 16, \"decimalMark\": \"implied\", \"wholeDigits\": 0", "c9", "2.01")]
    [InlineData("\"base\": 16, \"decimalMark\": \"implied\", \"wholeDigits\": 1", "-00A", "-0.10")]
    [InlineData("\"base\": 16, \"decimalMark\": \"implied\", \"wholeDigits\": 1", "1A", null)]
    [InlineData("\"base\": 16, \"decimalMark\": \"implied\", \"wholeDigits\": 1", "01G", null)]
    [InlineData("\"base\": 16, \"decimalMark\": \"implied\", \"wholeDigits\": 2", "FFFF", null)]
    public void Number_is_read_with_the_decimals_that_are_shown_or_refused(string words, string text, string? gives)
    {
        var number = ProfileSections.Number(System.Text.Json.JsonDocument.Parse($"{{ {words} }}").RootElement);

        var match = new TemplateMatcher(LineTemplate.Parse("{red}"), number).Match(Encoding.Latin1.GetBytes(text));

        Assert.Equal(gives, match.Fits ? match.Density(0).ToString() : null);
    }

    [Theory]
    [InlineData("{red}{letter}", "0.26L", true)]
    [InlineData("{red}{letter}", "0.26", false)]
    [InlineData("{red}{letter}", "0.26LL", false)]
    [InlineData("RED{leader}{red}", "RED......0.26", true)]
    [InlineData("RED{leader}{red}", "RED______0.26", true)]
    [InlineData("RED{leader}{red}", "RED0.26", false)]
    // The point went with the dots, and 26 is no density of two decimals.
    [InlineData("RED{leader}{red}", "RED.......26", false)]
    [InlineData("{red} {red}", "0.26 0.26", true)]
    [InlineData("{red} {red}", "0.26 0.27", false)]
    public void Template_with_a_letter_a_leader_or_a_density_twice_fits_only_what_it_says(string template, string line, bool fits)
    {
        var match = new TemplateMatcher(LineTemplate.Parse(template), new NumberFormat()).Match(Encoding.Latin1.GetBytes(line));

        Assert.Equal(fits, match.Fits && match.Density(0).Value == 0.26m);
    }

    [Theory]
    [InlineData("\"base\": 16", "decimalMark implied")]
    [InlineData("\"wholeDigits\": 0", "Only a number in base 16")]
    [InlineData("\"exponentDigits\": 2, \"decimalMark\": \"implied\"", "has a decimal mark")]
    [InlineData("\"shownDecimals\": 2", "fewer than decimals")]
    [InlineData("\"rounding\": \"cut\"", "needs shownDecimals")]
    public void Words_that_contradict_each_other_are_refused(string words, string why)
    {
        var text = ProfileTexts.With("\"title\": \"Small\",", $"\"title\": \"Small\", \"number\": {{ {words} }},");

        Assert.Contains(why, Assert.Throws<ProfileException>(() => ProfileTexts.Read(text)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Words_written_and_read_again_are_the_same()
    {
        var number = new NumberFormat
        {
            Decimals = 4, ShownDecimals = 2, Rounding = Rounding.Cut, ExponentDigits = 2, WholeDigits = 1, OverRange = [],
        };
        var again = ProfileSections.Number(System.Text.Json.JsonDocument.Parse(SectionWriter.Number(number)).RootElement);

        Assert.Equal(number with { OverRange = again.OverRange }, again);
    }
}

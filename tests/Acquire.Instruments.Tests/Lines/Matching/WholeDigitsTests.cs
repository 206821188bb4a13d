using System.Text;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Tests.Lines.Matching;

/// <summary>
/// Digits before the decimals, and the blank that a sign or a mark may take. Common practice of serial instruments, no source.
/// </summary>
public class WholeDigitsTests
{
    [Theory]
    [InlineData(DecimalMark.Point, 1, "0.26", true)]
    [InlineData(DecimalMark.Point, 1, "-0.26", true)]
    [InlineData(DecimalMark.Point, 1, ".26", false)]
    [InlineData(DecimalMark.Point, 1, "01.26", false)]
    [InlineData(DecimalMark.Point, 2, "01.26", true)]
    [InlineData(DecimalMark.Point, null, ".26", true)]
    [InlineData(DecimalMark.Comma, 1, ",26", false)]
    [InlineData(DecimalMark.Implied, 1, "126", true)]
    [InlineData(DecimalMark.Implied, 1, "0126", false)]
    [InlineData(DecimalMark.Implied, 2, "0126", true)]
    [InlineData(DecimalMark.Implied, 2, "012", false)]
    public void Number_with_other_than_the_digits_set_is_refused(DecimalMark mark, int? digits, string text, bool fits) =>
        Assert.Equal(fits, Fits("{red}", new NumberFormat { DecimalMark = mark, WholeDigits = digits }, text));

    [Theory]
    [InlineData(SignHabit.BlankForPlus, "R= 0.26", true)]
    [InlineData(SignHabit.BlankForPlus, "R=-0.26", true)]
    [InlineData(SignHabit.BlankForPlus, "R= -0.26", true)]
    [InlineData(SignHabit.BlankForPlus, "R=HI", true)]
    [InlineData(SignHabit.BlankForPlus, "R=0.26", false)]
    [InlineData(SignHabit.MinusOnly, "R=-0.26", false)]
    [InlineData(SignHabit.Any, "R=-0.26", false)]
    public void Minus_takes_the_place_of_the_only_blank_where_blank_is_plus(SignHabit sign, string text, bool fits) =>
        Assert.Equal(fits, Fits("R= {red}", new NumberFormat { Sign = sign, OverRange = ["HI"] }, text));

    private static bool Fits(string template, NumberFormat format, string text) =>
        new TemplateMatcher(LineTemplate.Parse(template), format).Match(Encoding.Latin1.GetBytes(text)).Fits;
}

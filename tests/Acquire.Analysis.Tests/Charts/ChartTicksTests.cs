using Acquire.Analysis.Charts;

namespace Acquire.Analysis.Tests.Charts;

public class ChartTicksTests
{
    [Theory]
    [InlineData("2026-01-12", "2026-01-13", 6, "12 Jan 00:00|06:00|12:00|18:00|13 Jan 00:00")]
    [InlineData("2026-01-12", "2026-01-16", 6, "12 Jan 2026|13 Jan|14 Jan|15 Jan|16 Jan")]
    [InlineData("2025-12-20", "2026-01-25", 6, "22 Dec 2025|29 Dec|5 Jan 2026|12 Jan|19 Jan")]
    [InlineData("2025-11-03", "2026-03-20", 6, "Dec 2025|Jan 2026|Feb|Mar")]
    [InlineData("2021-02-03", "2026-03-20", 6, "2022|2023|2024|2025|2026")]
    public void Dates_are_round_in_the_calendar(string from, string to, int most, string labels) => Assert.Equal(
        labels, string.Join('|', ChartTicks.Of(ChartAxis.Date, new ChartRange(Day(from), Day(to)), most).Select(t => t.Label)));

    [Fact]
    public void Weeks_begin_on_monday() => Assert.All(
        ChartTicks.Of(ChartAxis.Date, new ChartRange(Day("2026-01-01"), Day("2026-02-05")), 6),
        t => Assert.Equal(DayOfWeek.Monday, ChartAxes.MomentOf(t.At).DayOfWeek));

    [Theory]
    [InlineData(-0.088, 0.088, 5, "-0.05|0.00|0.05")]
    [InlineData(0, 31.5, 5, "0|10|20|30")]
    [InlineData(0, 0.42, 6, "0.0|0.1|0.2|0.3|0.4")]
    public void Numbers_are_round(double low, double high, int most, string labels) =>
        Assert.Equal(labels, string.Join('|', ChartTicks.Numbers(new ChartRange(low, high), most).Select(t => t.Label)));

    private static double Day(string day) =>
        DateOnly.ParseExact(day, "yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture).DayNumber;
}

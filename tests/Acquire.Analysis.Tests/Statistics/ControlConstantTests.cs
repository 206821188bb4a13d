using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Tests.Statistics;

public class ControlConstantTests
{
    // n, d2, d3 as control-chart tables print them.
    public static TheoryData<int, double, double> Table => new()
    {
        { 2, 1.12838, 0.8525 }, { 3, 1.69257, 0.8884 }, { 4, 2.05875, 0.8798 },
        { 5, 2.32593, 0.8641 }, { 6, 2.53441, 0.8480 }, { 7, 2.70436, 0.8332 },
        { 8, 2.84720, 0.8198 }, { 9, 2.97003, 0.8078 }, { 10, 3.07751, 0.7971 },
        { 11, 3.17287, 0.7873 }, { 12, 3.25846, 0.7785 }, { 13, 3.33598, 0.7704 },
        { 14, 3.40676, 0.7630 }, { 15, 3.47183, 0.7562 }, { 16, 3.53198, 0.7499 },
        { 17, 3.58788, 0.7441 }, { 18, 3.64006, 0.7386 }, { 19, 3.68896, 0.7335 },
        { 20, 3.73495, 0.7287 }, { 21, 3.77834, 0.7242 }, { 22, 3.81938, 0.7199 },
        { 23, 3.85832, 0.7159 }, { 24, 3.89535, 0.7121 }, { 25, 3.93063, 0.7084 },
    };

    [Theory]
    [MemberData(nameof(Table))]
    [Trait(
        "Source",
        "d2: AIAG SPC manual; d3: Wheeler and Chambers, Understanding Statistical Process Control; both as quoted by public tables")]
    public void Constants_are_those_of_the_tables(int n, double d2, double d3)
    {
        Assert.Equal(d2, NormalRange.D2(n), 0.000005);
        Assert.Equal(d3, NormalRange.D3(n), 0.00005);
    }

    [Fact]
    [Trait("Source", "Closed forms: d2(2) = 2/√π, d2(3) = 3/√π, d3(2) = √(2 − 4/π)")]
    public void Constants_of_few_numbers_are_their_closed_forms()
    {
        Assert.Equal(2 / Math.Sqrt(Math.PI), NormalRange.D2(2), 1e-10);
        Assert.Equal(3 / Math.Sqrt(Math.PI), NormalRange.D2(3), 1e-10);
        Assert.Equal(Math.Sqrt(2 - (4 / Math.PI)), NormalRange.D3(2), 1e-9);
    }

    [Fact]
    [Trait("Source", "Value from memory: d2(100) = 5.01519")]
    public void Range_of_a_hundred_numbers_has_its_known_mean() => Assert.Equal(5.01519, NormalRange.D2(100), 0.00001);

    [Theory]
    [InlineData(1)]
    [InlineData(0)]
    [InlineData(101)]
    public void Range_of_too_few_or_too_many_numbers_is_refused(int n) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => NormalRange.D2(n));
}

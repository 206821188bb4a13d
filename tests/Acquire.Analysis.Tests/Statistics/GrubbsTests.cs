using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Tests.Statistics;

public class GrubbsTests
{
    // The table's entry for n = 7, 5 % is printed 2.202, digits swapped (2.020 in the standard), and n = 15, 1 % repeats n = 14;
    // both are left out.
    [Theory]
    [InlineData(3, 1.155, 1.155)]
    [InlineData(4, 1.481, 1.496)]
    [InlineData(5, 1.715, 1.764)]
    [InlineData(6, 1.887, 1.973)]
    [InlineData(8, 2.126, 2.274)]
    [InlineData(9, 2.215, 2.387)]
    [InlineData(10, 2.290, 2.482)]
    [InlineData(11, 2.355, 2.564)]
    [InlineData(12, 2.412, 2.636)]
    [InlineData(13, 2.462, 2.699)]
    [InlineData(14, 2.507, 2.755)]
    [Trait("Source", "Harvey, Analytical Chemistry, Appendix 7 (LibreTexts), critical values of Grubbs' test, 5 % and 1 %")]
    public void Critical_value_is_that_of_the_published_table(int n, double five, double one)
    {
        Assert.Equal(five, Grubbs.CriticalValue(n), 0.0011);
        Assert.Equal(one, Grubbs.CriticalValue(n, 0.01), 0.0011);
    }

    [Theory]
    [InlineData(7, 2.020)]
    [InlineData(15, 2.549)]
    [InlineData(20, 2.709)]
    [InlineData(30, 2.908)]
    [InlineData(40, 3.036)]
    [Trait("Source", "ISO 5725-2, table 5, one outlier at 5 % (value from memory, seen again in several public programs)")]
    public void Critical_value_is_that_of_the_standard(int n, double expected) => Assert.Equal(expected, Grubbs.CriticalValue(n), 0.0015);

    [Fact]
    [Trait("Source", "NIST/SEMATECH e-Handbook 1.3.5.17.1, mass spectrometer of Tietjen and Moore: G = 2.4687; one-sided critical 2.032 "
        + "(value from memory)")]
    public void Test_of_the_handbooks_uranium_names_the_last_reading()
    {
        var test = Grubbs.Of([199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57])!.Value;

        Assert.Equal(7, test.Index);
        Assert.Equal(2.4687, test.G, 0.0001);
        Assert.True(test.IsOutlier);
        Assert.Equal(2.032, Grubbs.CriticalValue(8, 0.10), 0.0005);
    }

    [Fact]
    [Trait("Source", "Its own promise: once in twenty tests of clean readings, give or take three standard errors")]
    public void Test_of_clean_readings_names_one_as_seldom_as_it_promises()
    {
        var random = new Random(7);
        double[] Ten() => [.. Enumerable.Range(0, 10).Select(_ => random.Normal())];
        var named = Enumerable.Range(0, 5000).Count(_ => Grubbs.Of(Ten())!.Value.IsOutlier);

        Assert.InRange(named / 5000.0, 0.041, 0.060);
    }

    [Fact]
    public void Test_names_the_same_reading_on_any_scale_and_agrees_with_its_own_chance() =>
        Gen.Select(Gen.Int[-400, 400].Array[3, 30], Gen.Double[0.1, 10], Gen.Double[-5, 5]).Sample((steps, factor, shift) =>
        {
            double[] values = [.. steps.Select(s => s / 100.0)];
            if (steps.Distinct().Count() == 1)
            {
                return;
            }

            var (plain, moved) = (Grubbs.Of(values), Grubbs.Of([.. values.Select(v => (v * factor) + shift)]));
            Assert.Equal(plain!.Value.G, moved!.Value.G, 1e-7);
            Assert.Equal(plain.Value.IsOutlier, plain.Value.P < 0.05);
            Assert.True(plain.Value.G <= (values.Length - 1) / Math.Sqrt(values.Length) * (1 + 1e-9));
        });

    [Fact]
    public void Test_of_two_or_of_equal_readings_tells_nothing()
    {
        Assert.Null(Grubbs.Of([0.26, 0.99]));
        Assert.Null(Grubbs.Of([0.26, 0.26, 0.26, 0.26]));
    }
}

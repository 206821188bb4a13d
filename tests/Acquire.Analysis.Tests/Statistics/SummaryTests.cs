using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Tests.Statistics;

public class SummaryTests
{
    private static readonly Gen<double[]> Numbers = Gen.Double[-1000, 1000].Array[2, 40];

    // Certified mean, certified standard deviation, and the error that the rounding of the data to binary leaves.
    public static TheoryData<string, double[], double, double, double> Certified => new()
    {
        { "Michelso", StrdSets.Michelso, 299.852400000000, 0.0790105478190518, 1e-13 },
        { "Lew", StrdSets.Lew, -177.435000000000, 277.332168044316, 1e-15 },
        { "NumAcc1", StrdSets.NumAcc1, 10000002, 1, 0 },
        { "NumAcc2", StrdSets.NumAcc2, 1.2, 0.1, 1e-15 },
        { "NumAcc3", StrdSets.NumAcc3, 1000000.2, 0.1, 1e-9 },
        { "NumAcc4", StrdSets.NumAcc4, 10000000.2, 0.1, 1e-8 },
    };

    [Theory]
    [MemberData(nameof(Certified))]
    [Trait("Source", "NIST Statistical Reference Datasets, univariate summary statistics, certified values")]
    public void Summary_of_a_reference_set_has_its_certified_values(string set, double[] data, double mean, double deviation, double error)
    {
        var summary = Summary.Of(data);

        Assert.NotEmpty(set);
        Assert.Equal(data.Length, summary.Count);
        Assert.Equal(mean, summary.Mean, Math.Abs(mean) * 4e-16);
        Assert.Equal(deviation, summary.StandardDeviation!.Value, Math.Max(error, 5e-16) * Math.Max(1, deviation) * 2);
    }

    [Fact]
    public void Summary_of_one_number_has_no_deviation() => Assert.Equal(new Summary(1, 0.26, null), Summary.Of([0.26]));

    [Fact]
    public void Summary_of_equal_numbers_has_a_deviation_of_exactly_zero() => Gen.Select(Gen.Double[-10, 10], Gen.Int[2, 50])
        .Sample((value, n) =>
    {
        var summary = Summary.Of([.. Enumerable.Repeat(value, n)]);
        Assert.Equal((value, 0.0), (summary.Mean, summary.StandardDeviation!.Value));
    });

    [Fact]
    public void Summary_of_shifted_numbers_has_the_mean_shifted_and_the_same_deviation() =>
        Gen.Select(Numbers, Gen.Double[-1e4, 1e4]).Sample((numbers, shift) =>
        {
            var (plain, shifted) = (Summary.Of(numbers), Summary.Of([.. numbers.Select(x => x + shift)]));
            Assert.Equal(plain.Mean + shift, shifted.Mean, 1e-10);
            Assert.Equal(plain.StandardDeviation!.Value, shifted.StandardDeviation!.Value, 1e-10);
        });

    [Fact]
    public void Summary_of_scaled_numbers_is_scaled() => Gen.Select(Numbers, Gen.Double[-100, 100]).Sample((numbers, factor) =>
    {
        var (plain, scaled) = (Summary.Of(numbers), Summary.Of([.. numbers.Select(x => x * factor)]));
        Assert.Equal(plain.Mean * factor, scaled.Mean, 1e-9);
        Assert.Equal(plain.StandardDeviation!.Value * Math.Abs(factor), scaled.StandardDeviation!.Value, 1e-9);
    });

    [Fact]
    public void Summary_does_not_depend_on_the_order() =>
        Numbers.SelectMany(n => Gen.Shuffle(n).Select(s => (Given: n, Shuffled: s))).Sample(pair =>
        {
            var (given, shuffled) = (Summary.Of(pair.Given), Summary.Of(pair.Shuffled));
            Assert.Equal(given.Mean, shuffled.Mean, 1e-12);
            Assert.Equal(given.StandardDeviation!.Value, shuffled.StandardDeviation!.Value, 1e-12);
        });

    [Theory]
    [InlineData]
    [InlineData(double.NaN)]
    [InlineData(1.0, double.PositiveInfinity)]
    public void Summary_of_no_or_infinite_numbers_is_refused(params double[] values) =>
        Assert.Throws<ArgumentException>(() => Summary.Of(values));
}

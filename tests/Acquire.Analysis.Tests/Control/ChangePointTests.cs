using Acquire.Analysis.Control;
using Acquire.Analysis.Tests.Statistics;

namespace Acquire.Analysis.Tests.Control;

public class ChangePointTests
{
    [Fact]
    [Trait("Source", "NIST/SEMATECH e-Handbook 6.3.2.3 data: the shift is in group 13")]
    public void Step_of_the_handbook_is_found_at_group_13()
    {
        var change = ChangePoint.Of(
        [
            324.925, 324.675, 324.725, 324.350, 325.350, 325.225, 324.125, 324.525, 325.225, 324.600,
            324.625, 325.150, 328.325, 327.250, 327.825, 328.500, 326.675, 327.775, 326.875, 328.350,
        ])!;

        Assert.Equal((12, 12, 12), (change.Index, change.Earliest, change.Latest));
        Assert.Equal(324.79, change.Before, 5e-3);
        Assert.Equal(327.70, change.After, 5e-3);
        Assert.True(change.P < 1e-6);
    }

    /// <summary>The posterior written out by hand, without running sums.</summary>
    [Fact]
    public void Place_and_means_are_those_of_the_long_way()
    {
        double[] values = [0.01, -0.02, 0.00, 0.03, 0.05, 0.02, 0.06, 0.04];
        var posterior = Enumerable.Range(1, values.Length - 1).Select(t =>
        {
            var (a, b) = (values[..t], values[t..]);
            var s = a.Sum(v => Math.Pow(v - a.Average(), 2)) + b.Sum(v => Math.Pow(v - b.Average(), 2));
            return Math.Pow(a.Length * b.Length, -0.5) * Math.Pow(s, -(values.Length - 2) / 2.0);
        }).ToList();
        var best = posterior.IndexOf(posterior.Max()) + 1;

        var change = ChangePoint.Of(values)!;

        Assert.Equal(best, change.Index);
        Assert.Equal(values[..best].Average(), change.Before, 1e-12);
        Assert.Equal(values[best..].Average(), change.After, 1e-12);
        Assert.True(posterior.Skip(change.Earliest - 1).Take(change.Latest - change.Earliest + 1).Sum() >= 0.95 * posterior.Sum());
    }

    [Fact]
    public void Interval_holds_the_true_place_as_often_as_it_says()
    {
        var random = new Random(7);
        var held = 0;
        const int Trials = 2000;
        for (var trial = 0; trial < Trials; trial++)
        {
            var place = random.Next(1, 30);
            var change = ChangePoint.Of([.. Enumerable.Range(0, 30).Select(i => random.Normal() + (i >= place ? 1.5 : 0))])!;
            held += place >= change.Earliest && place <= change.Latest ? 1 : 0;
        }

        // The interval is a whole number of places, so it holds a little more than it must.
        Assert.InRange(held / (double)Trials, 0.94, 0.99);
    }

    [Fact]
    public void False_step_is_no_commoner_than_its_chance()
    {
        var random = new Random(8);
        var found =
            Enumerable.Range(0, 2000).Count(_ => ChangePoint.Of([.. Enumerable.Range(0, 25).Select(_ => random.Normal())])!.P < 0.05);

        Assert.True(found <= 0.06 * 2000, $"{found} of 2000");
    }

    [Fact]
    public void Too_few_or_equal_values_have_no_step()
    {
        Assert.Null(ChangePoint.Of([1, 2, 3]));
        Assert.Null(ChangePoint.Of([1, 1, 1, 1, 1]));
    }

    [Fact]
    public void Step_without_scatter_is_found_where_it_is()
    {
        var change = ChangePoint.Of([1, 1, 1, 2, 2])!;

        Assert.Equal((3, 3, 3), (change.Index, change.Earliest, change.Latest));
        Assert.True(change.P < 1e-10);
    }
}

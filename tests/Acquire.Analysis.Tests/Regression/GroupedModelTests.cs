using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Tests.Regression;

public class GroupedModelTests
{
    private static readonly double[][] Batches = [[74, 76, 75], [68, 71, 72], [75, 77, 77], [72, 74, 73], [79, 81, 79]];

    /// <summary>In balanced groups restricted maximum likelihood is the analysis of variance.</summary>
    [Fact]
    [Trait("Source", "NIST/SEMATECH e-Handbook 7.4.4, batches: components 11.71 and 1.80; data and answers from memory, recomputed")]
    public void Components_of_balanced_groups_are_those_of_the_analysis_of_variance()
    {
        var fit = GroupedModel.Fit([.. Batches.SelectMany(b => b)], [], [.. Batches.SelectMany((b, i) => b.Select(_ => $"batch {i}"))]);
        var within = fit.Model.Residual.MeanSquare!.Value;

        Assert.Equal(1.80, within, 2e-3);
        Assert.Equal(11.71, within * fit.Ratio, 0.03);
        Assert.Equal(Summary.Of([.. Batches.SelectMany(b => b)]).Mean, fit.Model.Coefficients[0], 1e-9);
        Assert.Equal(Math.Sqrt(36.9333 / 15), fit.Model.StandardError(0)!.Value, 2e-3);
        Assert.Equal(4, fit.DegreesOfFreedom); // of the five batches: nearly all of a batch's mean is shared
    }

    [Fact]
    public void Groups_that_share_nothing_are_plain_least_squares()
    {
        double[] y = [1, 2, 3, 1, 2, 3];
        var fit = GroupedModel.Fit(y, [], ["a", "a", "a", "b", "b", "b"]);

        Assert.Equal(0, fit.Ratio);
        Assert.Equal(LeastSquares.Fit(y, []).StandardError(0), fit.Model.StandardError(0));
    }

    [Fact]
    public void What_a_group_has_of_its_own_is_drawn_towards_the_rest()
    {
        var fit = GroupedModel.Fit([.. Batches.SelectMany(b => b)], [], [.. Batches.SelectMany((b, i) => b.Select(_ => $"batch {i}"))]);

        Assert.InRange(fit.OwnOf(3, 5), 4.5, 5);
        Assert.InRange(fit.OwnOf(1, 5), 4, fit.OwnOf(3, 5));
    }
}

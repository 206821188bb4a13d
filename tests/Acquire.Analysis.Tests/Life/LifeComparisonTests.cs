using Acquire.Analysis.Control;
using Acquire.Analysis.Life;
using Acquire.Analysis.Statistics;
using Acquire.Analysis.Tests.Statistics;

namespace Acquire.Analysis.Tests.Life;

public class LifeComparisonTests
{
    [Fact]
    public void Lines_run_from_the_same_bottles_are_compared_by_strips()
    {
        var comparison = LifeComparison.Of(Answer(), "line", 0.03);

        Assert.Equal(0.02, Assert.Single(comparison.Differences).Size * (comparison.Differences[0].Level == "machine" ? 1 : -1), 0.006);
        Assert.False(comparison.IsOfBottles);
        Assert.Equal(Power.StripsOfEach(0.03, comparison.Sigma), comparison.StripsOfEach);
        Assert.Contains("To show a difference of 0.030: ", LifeWords.Comparison(comparison, Answer()), StringComparison.Ordinal);
    }

    [Fact]
    public void Half_of_the_limit_is_seen_unless_told_otherwise() => Assert.Equal(0.035, LifeComparison.Of(Answer(), "line").See);

    [Fact]
    public void One_level_is_refused_and_not_among_all()
    {
        Assert.Contains(
            "one method only",
            Assert.Throws<ModelException>(() => LifeComparison.Of(Answer(), "method")).Message,
            StringComparison.Ordinal);
        Assert.Equal(["line"], LifeComparison.All(Answer()).Select(c => c.Factor));
    }

    private static LifeAnswer Answer()
    {
        var random = new Random(4);
        ImmutableArray<LifeRow> rows =
        [
            .. from bottle in Enumerable.Range(0, 4)
               from age in new[] { 1, 8, 15, 22 }
               from line in new[] { "dip tank", "machine" }
               select new LifeRow(
                   (-0.002 * age) + (line == "machine" ? 0.02 : 0) + (0.004 * random.Normal()),
                   $"D{bottle}",
                   "2417",
                   age,
                   null,
                   null,
                   line),
        ];
        var model = LifeModel.Of(rows);
        return new LifeAnswer
        {
            Key = new SeriesKey("contrast", null), Name = "contrast", Limit = new Limit(-0.07, 0.07, "test"), Strips =
                rows.Length, Bottles = 4, Model = model, Leaves = -0.07, Effects = model.Effects(new Limit(-0.07, 0.07, "test")),
        };
    }
}

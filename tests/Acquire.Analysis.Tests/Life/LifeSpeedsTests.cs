using Acquire.Analysis.Life;
using Acquire.Analysis.Statistics;
using Acquire.Analysis.Tests.Statistics;

namespace Acquire.Analysis.Tests.Life;

/// <summary>Bottles kept full and part full that age at different speeds. Invented numbers.</summary>
[Trait("speed", "slow")]
public class LifeSpeedsTests
{
    [Fact]
    public void Ways_of_keeping_get_the_speeds_that_made_the_data()
    {
        var model = LifeModel.Of(Rows(-0.001, -0.004));

        Assert.True(model.HasSpeeds);
        Assert.Equal(-0.001, model.Slope("full").Value, 0.0002);
        Assert.Equal(-0.004, model.Slope("part full").Value, 0.0002);
        Assert.Equal(17.5, model.Reaches(-0.07, "PART FULL").Estimate, 1.0);
        var speed = model.Effects(new Limit(-0.07, 0.07, "test")).Single(e => e.Factor == "ageing by storage");
        Assert.Equal(-0.003 * 21, speed.Size, 0.006);
        Assert.True(speed.IsClear && speed.P < 0.001);
    }

    [Fact]
    public void Difference_of_storage_is_told_at_the_mean_age()
    {
        var model = LifeModel.Of(Rows(-0.001, -0.004));

        Assert.Equal(
            model.At(11.5, "part full").Value - model.At(11.5, "full").Value,
            model.Effects(new Limit(-0.07, 0.07, "test")).Single(e => e.Factor == "storage").Size,
            1e-9);
    }

    /// <summary>Of sets without a difference of speed, one in twenty is given speeds of its own.</summary>
    [Fact]
    public void Ways_that_age_alike_share_a_speed()
    {
        var random = new Random(3);
        var apart = Enumerable.Range(0, 300).Count(_ => LifeModel.Of(Rows(-0.002, -0.002, random)).HasSpeeds);

        Assert.InRange(apart / 300.0, 0.02, 0.09);
    }

    [Fact]
    public void Bottle_kept_one_way_is_predicted_as_it_is_used_even_where_use_and_storage_go_together()
    {
        var random = new Random(8);
        ImmutableArray<LifeRow> rows = [.. Rows(-0.001, -0.004, random)
            .Select(r => r with { AreaPerLitre = 0.1 + ((r.Storage == "full" ? 0.02 : 0.05) * r.AgeDays) })];

        var model = LifeModel.Of(rows);

        Assert.False(model.HasSpeeds);
        Assert.Contains(model.LeftOut, l => l.Contains("not told from use", StringComparison.Ordinal));
        Assert.Equal(-0.001, model.Slope("full").Value, 0.0002);
        Assert.Equal(-0.004, model.Slope("part full").Value, 0.0002);
        Assert.Equal((0.1, 0.05), (Math.Round(model.UseOf("part full").Start, 9), Math.Round(model.UseOf("part full").PerDay, 9)));
    }

    [Fact]
    public void Storage_that_no_strip_has_is_refused_with_those_there_are() => Assert.Contains(
        "there is full; part full",
        Assert.Throws<ModelException>(() => LifeModel.Of(Rows(-0.001, -0.004)).At(3, "plastic")).Message, StringComparison.Ordinal);

    [Fact]
    public void Bottle_without_strips_is_as_unsure_as_mixes_differ()
    {
        var random = new Random(21);
        var model = LifeModel.Of(
        [
            .. from bottle in Enumerable.Range(0, 12)
               let own = 0.02 * random.Normal()
               from age in new[] { 1, 8, 15, 22 }
               select new LifeRow((-0.002 * age) + own + (0.004 * random.Normal()), $"D{bottle}", "2417", age),
        ]);

        Assert.InRange(model.OwnUncertainty("D99"), 0.012, 0.032);
        Assert.InRange(model.OwnUncertainty("D3"), 0.001, 0.003);
    }

    private static ImmutableArray<LifeRow> Rows(double full, double partFull, Random? given = null)
    {
        var random = given ?? new Random(5);
        return
        [
            .. from bottle in Enumerable.Range(0, 6)
               let isFull = bottle % 2 == 0
               from age in new[] { 1, 8, 15, 22 }
               select new LifeRow(
                   ((isFull ? full : partFull) * age) + (0.002 * random.Normal()),
                   $"D{bottle}", "2417", age, null, isFull ? "full" : "part full"),
        ];
    }
}

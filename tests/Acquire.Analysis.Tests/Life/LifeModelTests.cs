using Acquire.Analysis.Life;
using Acquire.Analysis.Statistics;
using Acquire.Analysis.Tests.Statistics;

namespace Acquire.Analysis.Tests.Life;

public class LifeModelTests
{
    [Fact]
    [Trait("Source", "F. A. Graybill and H. K. Iyer, Regression Analysis, 1994, p. 434 (crystals): mean response 5 at 90 %, as shipped "
        + "with R package investr")]
    public void One_bottle_is_the_plain_inverse_prediction()
    {
        double[] y = [0.08, 1.12, 4.43, 4.98, 4.92, 7.18, 5.57, 8.40, 8.81, 10.81, 11.16, 10.12, 13.12, 15.04];
        var life = LifeModel.Of([.. y.Select((v, i) => new LifeRow(v, "D7", "2417", 2 * (i + 1)))]).Reaches(5, confidence: 0.90);

        Assert.Equal((9.929058, 8.650259, 11.047897), (Math.Round(life.Estimate, 6), Math.Round(life.Lower, 6), Math.Round(life.Upper, 6)));
    }

    /// <summary>Known slopes, levels and lots come back, largest effect first.</summary>
    [Fact]
    public void Effects_of_storage_line_and_lot_are_told_apart()
    {
        var random = new Random(5);
        ImmutableArray<LifeRow> rows =
        [
            .. from bottle in Enumerable.Range(0, 8)
               from age in new[] { 1, 8, 15, 22 }
               let storage = bottle % 2 == 0 ? "full" : "half full"
               let line = bottle < 4 ? "dip tank" : "bench-top machine"
               let lot = (bottle + age) % 3 == 0 ? "2502" : "2417"
               select new LifeRow(
                   (-0.002 * age) + (storage == "full" ? 0 : -0.02) + (line == "dip tank" ? 0 : 0.03) + (lot == "2417" ? 0 : 0.01)
                       + (0.002 * random.Normal()),
                   $"D{bottle}", lot, age, null, storage, line),
        ];

        var model = LifeModel.Of(rows);
        var effects = model.Effects(new Limit(-0.07, 0.07, "test")).ToDictionary(e => e.Name);

        Assert.Equal(-0.042, effects["age, 1 to 22 days"].Size, 0.003);
        Assert.Equal(-0.02, effects["storage half full against full"].Size, 0.003);
        Assert.Equal(-0.03, effects["line dip tank against bench-top machine"].Size, 0.003);
        Assert.Equal(0.6, effects["age, 1 to 22 days"].LimitShare!.Value, 0.05);
        Assert.Equal("age, 1 to 22 days", model.Effects(new Limit(-0.07, 0.07, "test"))[0].Name);
        Assert.All(effects.Values, e => Assert.True(e.IsClear || e.Name.StartsWith("lot", StringComparison.Ordinal)));
        Assert.Empty(model.LeftOut);
        Assert.Equal(-0.002, model.Slope().Value, 0.0002);
    }

    [Fact]
    public void What_goes_together_is_left_out_and_said()
    {
        var model = LifeModel.Of(
            [.. new[] { 1, 5, 9, 14, 20, 26 }.Select((age, i) => new LifeRow(
                -0.002 * age + (i % 2 * 0.003),
                i < 3 ? "D1" : "D2",
                "2417",
                age,
                age * 0.05,
                i < 3 ? "full" : "half full",
                i < 3 ? "dip tank" : "bench-top machine"))]);

        Assert.Contains(model.LeftOut, l => l.Contains("goes together", StringComparison.Ordinal));
    }

    [Fact]
    public void Too_few_strips_or_one_age_are_refused()
    {
        Assert.Contains(
            "needs 4",
            Assert.Throws<ModelException>(() => LifeModel.Of([new LifeRow(0, "D1", "2417", 1)])).Message,
            StringComparison.Ordinal);
        Assert.Contains(
            "one age", Assert.Throws<ModelException>(() => LifeModel.Of(
                [.. Enumerable.Range(0, 6).Select(i => new LifeRow(0.001 * i, "D1", "2417", 3))])).Message, StringComparison.Ordinal);
    }

    /// <summary>Bottles differ from each other: the interval of the life holds the true one as often as it says.</summary>
    [Theory]
    [InlineData(0)]
    [InlineData(0.015)]
    public void Interval_of_the_life_holds_the_truth(double betweenBottles)
    {
        var random = new Random(17);
        var (held, told) = (0, 0);
        for (var trial = 0; trial < 150; trial++)
        {
            ImmutableArray<LifeRow> rows =
            [
                .. from bottle in Enumerable.Range(0, 5)
                   let own = betweenBottles * random.Normal()
                   from age in new[] { 1, 9, 17, 25 }
                   select new LifeRow((-0.0025 * age) + own + (0.012 * random.Normal()), $"D{bottle}", "2417", age),
            ];
            var life = LifeModel.Of(rows).Reaches(-0.07);
            told++;
            held += life.Kind == RatioKind.Bounded
                ? (28 >= life.Lower && 28 <= life.Upper ? 1 : 0)
                : life.Kind == RatioKind.Everything || 28 >= life.Upper || 28 <= life.Lower ? 1 : 0;
        }

        Assert.InRange(held / (double)told, 0.9, 0.995);
    }

    [Fact]
    public void One_more_strip_is_what_the_model_with_it_says()
    {
        var random = new Random(2);
        ImmutableArray<LifeRow> rows = [.. new[] { 1, 4, 8, 12, 16 }.Select(
            a => new LifeRow((-0.003 * a) + (0.004 * random.Normal()), "D1", "2417", a))];
        var model = LifeModel.Of(rows);

        // A further strip that lies on the line changes neither line nor squares, only what they rest on.
        var withOne = LifeModel.Of(rows.Add(new LifeRow(model.At(25).Value, "D1", "2417", 25)));
        var shrink = withOne.ResidualDeviation / model.ResidualDeviation;
        var promised = model.ReachesWithMore(-0.07, 25, 1);
        var found = withOne.Reaches(-0.07);

        Assert.Equal(found.Estimate, promised.Estimate, 1e-9);
        Assert.Equal(found.Upper - found.Lower, (promised.Upper - promised.Lower) * shrink, 0.02 * (found.Upper - found.Lower));
    }
}

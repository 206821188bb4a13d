using Acquire.Analysis.Charts;
using Acquire.Analysis.Control;
using Acquire.Analysis.Tests.Judgement;
using static Acquire.Analysis.Tests.Charts.ChartStrips;

namespace Acquire.Analysis.Tests.Charts;

public class ChartPropertyTests
{
    private static readonly string[] Lots = ["2417", "2611", "2803"];

    private static readonly Gen<StripPoint[]> Strips = Gen.Select(
        Gen.Double[
            0, 900], Sometimes(Gen.Double[-0.3, 0.3]), Gen.Double[0, 0.1], Gen.Int[0, 2].Select(i => Lots[i]), Sometimes(Gen.Double[0, 90]),
        (days, deviation, u, lot, age) => Point(days, deviation, u, lot) with { AgeDays = age }).Array[0, 25];

    [Fact]
    public void Every_strip_with_a_place_is_on_each_line_exactly_once_or_told_missing() => Sample((strips, axis, model) =>
    {
        var placed = strips.Where(s => axis.Of(s) is not null).Select(s => s.StripId).Order().ToList();
        Assert.Equal((placed.Count, strips.Length - placed.Count), (model.Strips, model.WithoutPlace));
        Assert.All(
            model.Panels.SelectMany(p => p.Lines),
            l => Assert.Equal(placed, l.Points.Select(p => p.StripId).Concat(l.Missing.Select(m => m.StripId)).Order()));
    });

    [Fact]
    public void Points_limits_and_zero_lie_inside_their_panel_and_axis() => Sample((_, _, model) => Assert.All(model.Panels, p =>
    {
        Assert.True(p.Range.Width > 0 && model.Range.Width > 0 && p.Range.Holds(0));
        Assert.All(
            p.Limits, l => Assert.True(p.Range.Holds(l.Value) && l.From >= model.Range.Low && l.To <= model.Range.High && l.From <= l.To));
        Assert.All(
            p.Lines.SelectMany(l => l.Points),
            q => Assert.True(p.Range.Holds(q.Deviation) && model.Range.Holds(q.X) && q.Lower <= q.Deviation && q.Deviation <= q.Upper));
        Assert.All(p.Lines, l => Assert.True(p.NaturalOf(l) is not { } n || (p.Range.Holds(n.Lower) && p.Range.Holds(n.Upper))));
    }));

    [Fact]
    public void Bands_cover_all_points_of_their_lot_without_gap_or_overlap() => Sample((_, axis, model) =>
    {
        Assert.Equal(axis == ChartAxis.Date && model.Strips > 0, !model.Lots.IsEmpty);
        Assert.All(model.Lots.Zip(model.Lots.Skip(1)), b => Assert.Equal(b.First.To, b.Second.From));
        foreach (var point in model.Panels.SelectMany(p => p.Lines).SelectMany(l => l.Points).Where(_ => !model.Lots.IsEmpty))
        {
            Assert.Contains(model.Lots, b => b.Lot == point.Lot && b.From <= point.X && point.X <= b.To);
        }
    });

    [Fact]
    public void Joined_points_are_of_one_lot_and_in_the_order_of_the_axis() => Sample((_, _, model) => Assert.All(
        model.Panels.SelectMany(p => p.Lines).SelectMany(l => l.Runs),
        r =>
        {
            Assert.Single(r.Select(p => p.Lot).Distinct());
            Assert.Equal(r.Select(p => p.X).Order(), r.Select(p => p.X));
        }));

    [Fact]
    public void Ticks_are_in_order_on_the_axis_labelled_and_no_more_than_fit() => Gen.Select(
        Gen.Double[-2000, 800_000], Gen.Double[0.001, 40_000], Gen.Int[1, 30]).Sample((low, width, most) =>
    {
        foreach (var (axis, from) in new[] { (ChartAxis.Date, Math.Max(low, 1)), (ChartAxis.AgeOfMix, low) })
        {
            var range = new ChartRange(from, from + width);
            var ticks = ChartTicks.Of(axis, range, most);
            Assert.True(ticks.Length <= most);
            Assert.All(
                ticks, t => Assert.True(t.Label.Length > 0 && t.At >= range.Low - (width * 1e-6) && t.At <= range.High + (width * 1e-6)));
            Assert.Equal(ticks.Select(t => t.At).Distinct().Order(), ticks.Select(t => t.At));
        }
    });

    private static void Sample(Action<StripPoint[], ChartAxis, ChartModel> check) => Gen.Select(
        Strips, Gen.Bool.Select(b => b ? ChartAxis.Date : ChartAxis.AgeOfMix)).Sample(
        (strips, axis) => check(strips, axis, ChartModel.Of(new ChartRequest(Some.C41, strips) { Axis = axis })), iter: 300);

    /// <summary>A number four times in five.</summary>
    private static Gen<double?> Sometimes(Gen<double> number) => Gen.Select(Gen.Int[0, 4], number, (i, n) => i == 0 ? (double?)null : n);
}

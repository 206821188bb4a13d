using Acquire.Analysis.Charts;
using Acquire.Analysis.Control;
using Acquire.Analysis.Tests.Judgement;
using Acquire.Analysis.Uncertainty;
using static Acquire.Analysis.Tests.Charts.ChartStrips;

namespace Acquire.Analysis.Tests.Charts;

public class ChartModelTests
{
    [Fact]
    [Trait("Source", "Training course on process monitoring: retained silver, HD − LD, LD, D-min from the top")]
    public void Panels_are_stacked_as_the_trade_stacks_them() =>
        Assert.Equal(["silver", "contrast", "spread", "ld", "dmin"], Chart(Point(0)).Panels.Select(p => p.Parameter.Key));

    [Fact]
    public void Parameters_asked_for_in_any_order_keep_their_stacking() => Assert.Equal(
        ["ld", "dmin", "spread"],
        ChartModel.Of(new ChartRequest(Some.C41, [Point(0)]) { Parameters = ["dmin", "spread", "LD", "ld"] }).Panels
            .Select(p => p.Parameter.Key));

    [Fact]
    public void Parameter_that_the_sheet_lacks_is_refused_by_name()
    {
        var fault = Assert.Throws<ImpossibleValueException>(() => ChartModel.Of(new ChartRequest(Some.C41, []) { Parameters = ["fog"] }));
        Assert.Contains("'fog'; it has dmin", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    [Trait("Source", "GUM 6.3.3: k = 1.960 for 95 %")]
    public void Whisker_reaches_1_96_standard_uncertainties_either_way()
    {
        var point = Chart(Point(0, 0.03, 0.01)).Panel("ld").Lines[0].Points.Single();
        Assert.Equal((0.0104, 0.0496), (Math.Round(point.Lower, 4), Math.Round(point.Upper, 4)));
    }

    [Fact]
    public void Whisker_of_a_spread_ends_at_zero() =>
        Assert.Equal(0, Chart(Point(0, 0.01, 0.05)).Panel("spread").Lines[0].Points.Single().Lower);

    [Fact]
    public void Whisker_of_a_poor_reading_does_not_press_the_limits_flat()
    {
        var panel = Chart(Point(0, 0.01, 3)).Panel("ld");
        Assert.True(panel.Range.Width < 0.4, $"The panel goes from {panel.Range.Low} to {panel.Range.High}.");
        Assert.True(panel.Lines[0].Points[0].Upper > 5);
    }

    [Fact]
    public void New_lot_begins_a_new_band_and_breaks_the_line()
    {
        var model = Chart(Point(0), Point(1), Point(3, lot: "2611"), Point(4, lot: "2611"));
        Assert.Equal(["2417", "2611"], model.Lots.Select(b => b.Lot));
        Assert.Equal(ChartAxes.DayOf(Start.AddDays(2)), model.Lots[1].From, 1e-6);
        Assert.Equal([0, 0, 1, 1], model.Panel("ld").Lines[0].Points.Select(p => p.Run));
    }

    [Fact]
    public void Pause_of_a_year_breaks_the_line_and_a_week_does_not()
    {
        var model = Chart(Point(0), Point(2), Point(4), Point(11), Point(376), Point(378));
        Assert.Equal([0, 0, 0, 0, 1, 1], model.Panel("ld").Lines[0].Points.Select(p => p.Run));
    }

    [Fact]
    public void Limits_changed_in_between_hold_where_they_were_in_force()
    {
        var tighter = Sheet(new Limit(-0.04, 0.04, "the sheet in the box"), new Limit(-0.06, 0.06, "the sheet in the box"));
        var panel = ChartModel.Of(new ChartRequest(tighter, [Point(0, 0.05), Point(2, 0.05, sheet: tighter)])).Panel("ld");
        Assert.Equal([Zone.Inside, Zone.Action], panel.Lines[0].Points.Select(p => p.Zone!.Value));
        var action = panel.Limits.Where(l => l is { Kind: ChartLimitKind.Action, Value: > 0 }).ToList();
        Assert.Equal([0.06, 0.04], action.Select(l => l.Value));
        Assert.Equal(action[0].To, action[1].From);
    }

    [Fact]
    public void Axis_of_age_takes_the_newest_limits_and_says_so()
    {
        var tighter = Sheet(new Limit(-0.04, 0.04, "the sheet in the box"), null);
        var strips = new[] { Point(0) with { AgeDays = 9 }, Point(2, sheet: tighter) with { AgeDays = 3 } };
        var model = ChartModel.Of(new ChartRequest(tighter, strips) { Axis = ChartAxis.AgeOfMix });
        Assert.Equal([-0.04, 0.04], model.Panel("ld").Limits.Select(l => l.Value));
        Assert.Contains(model.Notes, n => n.Contains("other limits", StringComparison.Ordinal));
        Assert.Equal([3, 9], model.Panel("ld").Lines[0].Points.Select(p => p.X));
    }

    [Fact]
    public void Strips_without_a_place_are_counted_and_told()
    {
        var model = ChartModel.Of(new ChartRequest(
            Some.C41, [Point(0) with { OpenDays = 4 }, Point(1), Point(2) with { OpenDays = double.NaN }]) { Axis = ChartAxis.DaysOpen });
        Assert.Equal((1, 2), (model.Strips, model.WithoutPlace));
        Assert.Contains("2 strips are not on the chart: the books do not tell the day their bottle was opened.", model.Notes);
        Assert.Empty(model.Lots);
    }

    [Fact]
    public void Bottles_age_each_on_a_line_of_its_own()
    {
        var strips = new[] { ("D7", 1.0), ("D8", 2.0), ("D7", 3.0), ("d8", 4.0) }.Select(
            (b, i) => Point(i) with { Bottle = b.Item1, AreaPerLitre = b.Item2 }).ToArray();
        var line = ChartModel.Of(new ChartRequest(Some.C41, strips) { Axis = ChartAxis.AreaPerLitre }).Panel("ld").Lines[0];
        Assert.Equal([0, 1, 0, 1], line.Points.Select(p => p.Run));
        Assert.Equal([2, 2], line.Runs.Select(r => r.Length));
    }

    [Fact]
    public void Patch_left_out_is_missing_with_its_reason()
    {
        var model = Chart(Point(0), Point(1, deviation: null));
        Assert.Single(model.Panel("silver").Lines[0].Points);
        Assert.Equal("It was not read.", model.Panel("silver").Lines[0].Missing.Single().Why);
        Assert.Contains("LD is not known of 1 strip: It was not read.", model.Notes);
    }

    [Fact]
    public void Empty_limits_give_a_chart_about_zero_and_a_note()
    {
        var model = ChartModel.Of(new ChartRequest(Sheet(null, null), [Point(0, sheet: Sheet(null, null))]));
        Assert.Empty(model.Panel("ld").Limits);
        Assert.True(model.Panel("ld").Range.Holds(0));
        Assert.Contains("LD has no limits; fill them in from the sheet in the box.", model.Notes);
    }

    [Fact]
    public void No_strips_give_empty_panels_with_limits()
    {
        var model = Chart();
        Assert.Equal((0, 5), (model.Strips, model.Panels.Length));
        Assert.All(model.Panels, p => Assert.NotEmpty(p.Limits));
    }

    /// <summary>The ten flow rates less 50. The handbook rounds d2 to 1.128; the exact one makes a difference of 0.002.</summary>
    [Fact]
    [Trait("Source", "NIST/SEMATECH e-Handbook 6.3.2.2, flow rate of 10 batches")]
    public void Natural_limits_are_those_of_the_handbook()
    {
        double[] flow = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1];
        var natural = Chart([.. flow.Select((f, i) => Point(i, f - 50))]).Panel("ld").Lines[1].Natural!;
        Assert.Equal(50.81 - 50, natural.Centre, 1e-9);
        Assert.Equal(55.8041 - 50, natural.Upper, 0.002);
        Assert.Equal(45.8159 - 50, natural.Lower, 0.002);
    }

    [Fact]
    public void Natural_limits_are_of_the_newest_lot_and_need_eight_strips()
    {
        var old = Enumerable.Range(0, 9).Select(i => Point(i, 0.05)).ToArray();
        var few = Enumerable.Range(10, 7).Select(i => Point(i, -0.01, lot: "2611")).ToArray();
        Assert.Equal(0.05, Chart(old).Panel("ld").Lines[0].Natural!.Centre, 1e-12);
        Assert.Null(Chart([.. old, .. few]).Panel("ld").Lines[0].Natural);
        Assert.Equal(-0.01, Chart([.. old, .. few, Point(20, -0.01, lot: "2611")]).Panel("ld").Lines[0].Natural!.Centre, 1e-12);
    }

    [Fact]
    public void Strip_that_jumps_breaks_a_run_rule_and_no_other_does()
    {
        var strips = Enumerable.Range(0, 20).Select(i => Point(i, (i % 2 * 0.002) + (i == 19 ? 0.05 : 0))).ToArray();
        var points = Chart(strips).Panel("ld").Lines[0].Points;
        Assert.Contains(RunRule.BeyondThreeSigma, points[^1].Signals);
        Assert.All(points.Take(19), p => Assert.DoesNotContain(RunRule.BeyondThreeSigma, p.Signals));
    }

    [Fact]
    public void Events_on_the_chart_are_numbered_in_time_and_others_left_out()
    {
        ChartEvent At(double days, string text) => new(Start.AddDays(days), text, "new mix");
        var model =
            ChartModel.Of(new ChartRequest(Some.C41, [Point(0), Point(30)]) { Events = [At(20, "D8"), At(10, "D7"), At(300, "D9")] });
        Assert.Equal([(1, "D7"), (2, "D8")], model.Events.Select(e => (e.Number, e.Event.Text)));
    }

    [Fact]
    public void Findings_stand_where_they_began_in_their_panel()
    {
        var strips = new[] { Point(0), Point(1), Point(2) };
        var model =
            ChartModel.Of(new ChartRequest(Some.C41, strips) { Findings = [Finding(strips[1], "ld"), Finding(strips[2], "contrast")] });
        Assert.Equal(
            [(1, "contrast"), (2, "ld")], model.Panels.SelectMany(p => p.Findings).Select(f => (f.Number, f.Finding.ParameterKey)));
        Assert.Equal(ChartAxes.DayOf(strips[1].At), model.Panel("ld").Findings.Single().X);
    }

    [Fact]
    public void Verdict_is_the_callers() => Assert.All(
        ChartModel.Of(new ChartRequest(Some.C41, [Point(0)]) { VerdictOf = (_, r) => r.Channel == Channel.Red ? Verdict.Undecided : null })
            .Panel("ld").Lines,
        l => Assert.Equal(l.Channel == Channel.Red ? Verdict.Undecided : null, l.Points.Single().Verdict));

    private static DriftFinding Finding(Acquire.Analysis.Control.StripPoint strip, string key) => new()
    {
        ParameterKey = key,
        Channels = [],
        Side = Side.High,
        Shape = DriftShape.Jump,
        BeganAtStrip = strip.StripId,
        Began = strip.At,
        Earliest = strip.At,
        Latest = strip.At,
        Noticed = strip.At,
        Step = 0.05,
        Detectors = [],
        IsLatest = true,
        Sentence = "It went up.",
    };
}

using Acquire.Analysis.Control;

namespace Acquire.Analysis.Tests.Drift;

public class DriftStudyTests
{
    [Fact]
    public void Jump_in_all_colours_is_one_finding_with_its_date()
    {
        var study = Study(20, 1, i => i >= 12 ? 0.07 : 0);

        var finding = Assert.Single(study.Findings.Where(f => !f.IsNotice));
        Assert.Equal(DriftShape.Jump, finding.Shape);
        Assert.Equal([Channel.Red, Channel.Green, Channel.Blue], finding.Channels);
        Assert.Equal(Histories.Start.AddDays(12), finding.Began);
        Assert.InRange(finding.Step, 0.05, 0.09);
        Assert.Contains("HD − LD in all three colours went up by about 0.0", finding.Sentence, StringComparison.Ordinal);
        Assert.Contains("2026-01-13", finding.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void Slow_fall_is_found_as_gradual_and_once()
    {
        var study = Study(40, 2, i => -0.003 * Math.Max(0, i - 10));

        var finding = Assert.Single(study.Findings.Where(f => f.Shape is DriftShape.Gradual or DriftShape.Jump));
        Assert.Equal((DriftShape.Gradual, Side.Low), (finding.Shape, finding.Side));
        Assert.Contains("little by little", finding.Sentence, StringComparison.Ordinal);
        Assert.True(finding.Began < Histories.Start.AddDays(25));
    }

    [Fact]
    public void One_strip_far_out_is_told_as_one_strip()
    {
        var finding = Assert.Single(Study(20, 3, i => i == 11 ? 0.09 : 0).Findings.Where(f => !f.IsNotice));

        Assert.Equal(DriftShape.SingleStrip, finding.Shape);
        Assert.Equal(Histories.Start.AddDays(11), finding.Began);
    }

    /// <summary>The aims of a new lot have an error of their own.</summary>
    [Fact]
    public void Change_of_lot_is_no_drift()
    {
        var alarms = 0;
        for (var seed = 0; seed < 100; seed++)
        {
            alarms += Study(24, seed, i => i >= 12 ? 0.05 : 0, i => i < 12 ? "2417" : "2502").Findings
                .Count(f => !f.IsNotice && f.Began == Histories.Start.AddDays(12));
        }

        // A false alarm may fall on that day as on any other.
        Assert.InRange(alarms, 0, 6);
    }

    [Fact]
    public void Step_that_a_change_of_lot_hides_is_found_when_it_comes_later()
    {
        var study = Study(30, 4, i => (i >= 12 ? 0.05 : 0) + (i >= 20 ? -0.08 : 0), i => i < 12 ? "2417" : "2502");

        Assert.Contains(study.Findings, f => f.Began == Histories.Start.AddDays(20) && f.Side == Side.Low);
    }

    [Fact]
    public void Channels_that_move_apart_are_findings_apart()
    {
        var series = new Dictionary<SeriesKey, ImmutableArray<SeriesEntry>>
        {
            [new("contrast", Channel.Red)] = Histories.Series(Histories.Scatter(30, 0.008, 5, i => i >= 10 ? -0.06 : 0)),
            [new("contrast", Channel.Blue)] = Histories.Series(Histories.Scatter(30, 0.008, 6, i => i >= 22 ? -0.06 : 0)),
        };

        var findings = DriftStudy.Of(series, _ => "HD − LD").Findings.Where(f => !f.IsNotice).ToList();

        Assert.Equal([Histories.Start.AddDays(10), Histories.Start.AddDays(22)], findings.Select(f => f.Began));
        Assert.All(findings, f => Assert.Single(f.Channels));
    }

    [Fact]
    public void Three_moves_away_from_the_aim_are_a_notice_while_they_are_news()
    {
        var findings = DriftStudy.Of(
            new Dictionary<SeriesKey, ImmutableArray<SeriesEntry>> { [new("speed", Channel.Green)] =
                Histories.Series([0.00, 0.004, 0.009, 0.013]) }, _ => "LD").Findings;

        var notice = Assert.Single(findings);
        Assert.True(notice.IsNotice);
        Assert.Contains("three moves up in a row", notice.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void Resemblance_of_successive_strips_is_told()
    {
        var random = new Random(4);
        var level = 0.0;
        var values = Enumerable.Range(0, 60)
            .Select(_ => level = (0.6 * level) + (0.008 * Acquire.Analysis.Tests.Statistics.RandomNumbers.Normal(random)))
            .ToArray();
        var study = DriftStudy.Of(
            new Dictionary<SeriesKey, ImmutableArray<SeriesEntry>> { [new("speed", Channel.Green)] = Histories.Series(values) }, _ => "LD");

        Assert.Contains(study.Notes, n => n.Contains("resembles the one before", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(2)]
    public void Few_strips_or_equal_ones_move_nothing(int count) => Assert.Empty(DriftStudy.Of(
        new Dictionary<SeriesKey, ImmutableArray<SeriesEntry>> { [new("speed", Channel.Green)] =
            Histories.Series(Enumerable.Repeat(0.02, count * 10)) }, _ => "LD").Findings);

    /// <summary>The levels of two lots differ; within each, strips are independent.</summary>
    [Fact]
    public void New_lot_is_no_resemblance() =>
        Assert.InRange(
            Enumerable.Range(0, 60).Count(seed => !Study(40, seed, i => i >= 20 ? 0.05 : 0, i => i < 20 ? "2417" : "2502").Notes.IsEmpty),
            0,
            7);

    /// <summary>The promise is one in twenty; the bounds leave room for so few histories. The figures are TruthBenchmark's.</summary>
    [Theory]
    [InlineData(0.0)]
    [InlineData(0.6)]
    public void Processes_in_which_nothing_happens_are_seldom_said_to_move(double memory)
    {
        var told = Enumerable.Range(0, 40).Count(seed => DriftStudy.Of(
            Channels.Colours.ToDictionary(
                c => new SeriesKey("contrast", c), c => Histories.Series(Remembering(60, memory, (10 * seed) + (int)c))),
            _ => "HD − LD").Findings.Any(f => !f.IsNotice));

        Assert.InRange(told, 0, 5);
    }

    [Fact]
    public void Beginning_of_a_ramp_lies_within_its_days()
    {
        var found = Enumerable.Range(0, 40).Select(seed => Study(55, seed, i => 0.0014 * Math.Max(0, i - 24)))
            .Select(s => s.Findings.First(
                f => f.Noticed >= Histories.Start.AddDays(25) && f.Shape is not (DriftShape.Notice or DriftShape.SingleStrip)))
            .ToList();
        var began = Histories.Start.AddDays(25);

        Assert.InRange(found.Count(f => f.Earliest <= began && began <= f.Latest), 34, 40);
        Assert.InRange(found.Average(f => (f.Began - began).TotalDays), -4, 4);
    }

    /// <summary>A step of two standard deviations.</summary>
    [Fact]
    public void Step_that_is_hard_to_see_is_not_said_to_come_little_by_little()
    {
        var shapes = Enumerable.Range(0, 40).SelectMany(seed => Study(60, seed, i => i >= 25 ? 0.016 : 0).Findings)
            .Where(f => f.Shape is not (DriftShape.Notice or DriftShape.SingleStrip)).Select(f => f.Shape).ToList();

        Assert.InRange(shapes.Count, 12, 60);
        Assert.InRange(shapes.Count(s => s == DriftShape.Gradual), 0, 2);
        Assert.Contains(DriftShape.Open, shapes);
    }

    private static IEnumerable<double> Remembering(int count, double memory, int seed)
    {
        var level = 0.0;
        return Histories.Scatter(count, 0.008, seed).Select(v => level = (memory * level) + (Math.Sqrt(1 - (memory * memory)) * v));
    }

    private static DriftStudy Study(int count, int seed, Func<int, double> shift, Func<int, string>? lotOf = null) => DriftStudy.Of(
        Channels.Colours.ToDictionary(
            c => new SeriesKey("contrast", c),
            c => Histories.Series(Histories.Scatter(count, 0.008, (10 * seed) + (int)c, shift), lotOf)),
        _ => "HD − LD");
}

using Acquire.Analysis.Charts;
using Acquire.Analysis.Control;
using Acquire.Analysis.Judgement;
using Acquire.Analysis.Statistics;
using Acquire.Analysis.Tests.Judgement;
using Acquire.Formats.ProcessSheets;

namespace Acquire.Analysis.Tests.Charts;

/// <summary>Every kind of parameter is charted in the lines that it is judged in, against the limits of each line.</summary>
public class LinesOfEveryKindTests
{
    private static readonly Limit Wide = new(-0.20, 0.20, "sheet in the box");

    [Theory]
    [InlineData("speed-point")]
    [InlineData("gradient")]
    [InlineData("slope")]
    [InlineData("dmin")]
    public void Parameter_of_a_wedge_has_its_strips_on_the_chart(string key)
    {
        var panel = ChartModel.Of(new ChartRequest(ShippedSheets.Get("bw"), [Point(ShippedSheets.Get("bw"), key, Channel.Visual, 0.02)]))
            .Panel(key);

        var line = Assert.Single(panel.Lines);
        Assert.Equal(Channel.Visual, line.Channel);
        Assert.Equal(0.02, Assert.Single(line.Points).Deviation);
        Assert.Empty(line.Missing);
    }

    [Fact]
    public void Strip_inside_the_limit_of_its_own_channel_is_drawn_inside_it()
    {
        var sheet = WithOwnLimits();
        var panel = ChartModel.Of(new ChartRequest(sheet, [Point(sheet, "ld", Channel.Red, 0.15)])).Panel("ld");

        Assert.Equal(Zone.Inside, panel.Lines.Single(l => l.Channel == Channel.Red).Points.Single().Zone);
        Assert.Contains(panel.Limits, l => l is { Kind: ChartLimitKind.Action, Value: 0.20 });
        Assert.True(panel.Range.High > 0.20);
    }

    /// <summary>LD of C-41, red with a limit of its own.</summary>
    private static ProcessSheet WithOwnLimits() => new(
        Some.C41.Key,
        Some.C41.Name,
        Some.C41.Status,
        Some.C41.Layout,
        [.. Some.C41.Parameters.Select(
            p => p.Key == "ld" ? p with { ChannelLimits = p.ChannelLimits.Add(Channel.Red, new ParameterLimits(Wide, null)) } : p)]);

    private static StripPoint Point(ProcessSheet sheet, string key, Channel? channel, double deviation) => new()
    {
        StripId = Guid.NewGuid(),
        At = ChartStrips.Start,
        Lot = "2417",
        Judgement = new StripJudgement(
            [
                new ParameterResult
                {
                    Parameter = sheet.Get(key),
                    Channel = channel,
                    Deviation = deviation,
                    StandardUncertainty = 0.004,
                    Zone = sheet.Get(key).LimitsIn(channel).ZoneOf(deviation),
                },
            ],
            ImmutableDictionary<Channel, PooledDeviation>.Empty),
    };
}

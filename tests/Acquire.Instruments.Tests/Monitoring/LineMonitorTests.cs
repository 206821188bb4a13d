using Acquire.Instruments.Lines;
using Acquire.Instruments.Links;
using Acquire.Instruments.Monitoring;
using Acquire.Instruments.Profiles;
using Acquire.Instruments.Tests.Lines;
using Acquire.Instruments.Tests.Profiles;

namespace Acquire.Instruments.Tests.Monitoring;

public sealed class LineMonitorTests
{
    [Fact]
    public async Task Lines_without_a_profile_are_shown_and_mean_nothing()
    {
        var (events, monitor) = await ListenAsync(null, "R 0.26\rG 0.62\n", "B 0.8");
        Assert.Equal(["R 0.26", "G 0.62", "B 0.8"], events.Select(e => e.Line.Text));
        Assert.Equal([LineMeaning.Ignored, LineMeaning.Ignored, LineMeaning.Unmatched], events.Select(e => e.Meaning));
        Assert.Equal((19, 1, 1), (monitor.Tally.Bytes, monitor.Tally.Cr, monitor.Tally.Lf));
    }

    [Fact]
    public async Task What_no_line_end_of_the_profile_ends_is_unfinished()
    {
        var (events, monitor) = await ListenAsync(ShippedProfiles.Get("vrgb-columns"), "LAMP\r\n+0.580 ", "+0.262\r");
        Assert.Equal(LineMeaning.Error, events[0].Meaning);
        Assert.True(monitor.UnfinishedLine.IsEmpty, "the break ended it");
        Assert.Equal("+0.580 +0.262\\x0D", events[1].Line.Text);
    }

    private static async Task<(List<InstrumentEvent> Events, LineMonitor Monitor)> ListenAsync(
        DeviceProfile? profile, params string[] chunks)
    {
        var link = new ScriptedBytes();
        chunks.ToList().ForEach(link.Send);
        link.Break();
        var monitor = new LineMonitor(profile, TimeProvider.System);
        List<InstrumentEvent> events = [];
        List<byte> seen = [];
        await Assert.ThrowsAsync<LinkException>(async () =>
        {
            await foreach (var e in monitor.ReadAllAsync(link, chunk => seen.AddRange(chunk.Span), TestContext.Current.CancellationToken))
            {
                events.Add(e);
            }
        });
        Assert.Equal(string.Concat(chunks), System.Text.Encoding.Latin1.GetString([.. seen]));
        return (events, monitor);
    }
}

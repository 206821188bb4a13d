using System.Diagnostics.Metrics;
using Acquire.Bench.Service;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Links;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Diagnostics.Metrics.Testing;

namespace Acquire.Bench.Tests.Service;

public sealed class BenchMetersTests : IDisposable
{
    private static readonly RawLine Line = new([.. "R 0.26"u8], DateTimeOffset.UnixEpoch);
    private static readonly LinkState.Connected Connected = new("port", []);
    private static readonly LinkException Fault = new(LinkFault.Gone, "pulled out");

    private readonly ServiceProvider _host = new ServiceCollection().AddMetrics().BuildServiceProvider();

    private IMeterFactory Factory => _host.GetRequiredService<IMeterFactory>();

    public void Dispose() => _host.Dispose();

    [Fact]
    public void Readings_and_unmatched_lines_are_counted_by_instrument()
    {
        using var readings = Collect("acquire.readings");
        using var unmatched = Collect("acquire.lines.unmatched");
        var meters = new BenchMeters(Factory);
        var (bench, staff) = (meters.Of("bench"), meters.Of("staff"));

        bench.Took(Some.Taken());
        bench.Took(new InstrumentEvent.UnmatchedLine(Line, "fits nothing"));
        bench.Took(new InstrumentEvent.IgnoredLine(Line));
        staff.Took(Some.Taken());

        Assert.Equal([("bench", 1), ("staff", 1)], Counted(readings));
        Assert.Equal([("bench", 1)], Counted(unmatched));
    }

    [Fact]
    public void Absence_counts_once_and_only_when_it_is_over()
    {
        using var reconnects = Collect("acquire.link.reconnects");
        var meters = new BenchMeters(Factory).Of("bench");

        LinkState[] absence = [
            new LinkState.Gone(Fault), new LinkState.Reconnecting(1, Fault, "Soon."), new LinkState.Reconnecting(2, Fault, "Soon.")];
        foreach (var state in absence.Prepend(Connected))
        {
            meters.Sees(state);
        }

        Assert.Empty(Counted(reconnects));
        meters.Sees(Connected);
        meters.Sees(Connected);
        Assert.Equal([("bench", 1)], Counted(reconnects));
    }

    [Fact]
    public void First_connection_and_silence_are_no_reconnects()
    {
        using var reconnects = Collect("acquire.link.reconnects");
        var meters = new BenchMeters(Factory).Of("bench");

        meters.Sees(Connected);
        meters.Sees(new LinkState.Silent("port", TimeSpan.FromMinutes(1)));
        meters.Sees(Connected);

        Assert.Empty(Counted(reconnects));
    }

    private MetricCollector<long> Collect(string name) => new(Factory, BenchMeters.MeterName, name);

    private static IEnumerable<(string, long)> Counted(MetricCollector<long> collector) => collector.GetMeasurementSnapshot()
        .Select(m => ((string)m.Tags[BenchMeters.InstrumentAttribute]!, m.Value));
}

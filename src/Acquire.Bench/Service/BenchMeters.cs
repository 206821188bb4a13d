using System.Diagnostics.Metrics;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Links;

namespace Acquire.Bench.Service;

/// <summary>
/// Counts what happens at the instruments, for whoever watches over the service. Names, units and attributes as OpenTelemetry's semantic
/// conventions ask for them: a name space, no unit in the name, countable things in braces.
/// </summary>
/// <param name="meters">The host's, so that two services in one process never count into each other.</param>
public sealed class BenchMeters(IMeterFactory meters)
{
    public const string MeterName = "Acquire.Bench";

    /// <summary>The attribute that says which instrument.</summary>
    public const string InstrumentAttribute = "acquire.instrument.name";

    private readonly Meter _meter = meters.Create(MeterName);

    /// <summary>The counters of one instrument.</summary>
    public InstrumentMeters Of(string instrument) => new(_meter, instrument);
}

/// <summary>What came from one instrument. For its loop alone: not for several threads at a time.</summary>
public sealed class InstrumentMeters
{
    private readonly Counter<long> _readings;
    private readonly Counter<long> _unmatched;
    private readonly Counter<long> _reconnects;
    private readonly KeyValuePair<string, object?> _instrument;
    private bool _isAway;

    internal InstrumentMeters(Meter meter, string instrument)
    {
        _instrument = new(BenchMeters.InstrumentAttribute, instrument);

        // A meter gives the same instrument again for the same name, so this makes no second counter.
        _readings = meter.CreateCounter<long>("acquire.readings", "{reading}", "Readings that came from the instrument.");
        _unmatched = meter.CreateCounter<long>("acquire.lines.unmatched", "{line}", "Lines that fit nothing in the profile.");
        _reconnects = meter.CreateCounter<long>(
            "acquire.link.reconnects", "{reconnect}", "Times that a link which had broken was open again.");
    }

    /// <summary>Counts what a line turned out to be, once it is in the store.</summary>
    public void Took(InstrumentEvent received)
    {
        var counter = received switch
        {
            InstrumentEvent.ReadingTaken => _readings,
            InstrumentEvent.UnmatchedLine => _unmatched,
            _ => null,
        };
        counter?.Add(1, _instrument);
    }

    /// <summary>Sees each state of the link in its order; an absence counts when it is over, however many attempts it took.</summary>
    public void Sees(LinkState state)
    {
        if (state is LinkState.Connected && _isAway)
        {
            _reconnects.Add(1, _instrument);
        }

        _isAway = state switch
        {
            LinkState.Gone => true,
            LinkState.Connected => false,
            _ => _isAway,
        };
    }
}

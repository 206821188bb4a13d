using Acquire.Bench.Guidance;
using Acquire.Instruments.Lines;

namespace Acquire.Bench.Tests.Support;

/// <summary>Values that a test does not care about.</summary>
internal static class Some
{
    public static readonly DateTimeOffset Moment = new(2026, 11, 25, 18, 40, 0, TimeSpan.Zero);

    public static StripLayout Layout { get; } = new("two patches", [new Patch("dmin", "D-min"), new Patch("ld", "LD")]);

    public static ReadingPlan Plan(int reads = 2) => new(Layout, reads, Channels.Colours);

    public static RawLine Line(string text) => RawLine.OfText(text, Moment);

    public static Reading Reading(decimal red = 0.26m)
    {
        var densities = ChannelDensities.Rgb(red, 0.62m, 0.80m);
        return new Reading(densities, Moment, [Line(densities.ToString())]);
    }

    public static InstrumentEvent.ReadingTaken Taken(decimal red = 0.26m)
    {
        var reading = Reading(red);
        return new InstrumentEvent.ReadingTaken(reading.Lines[0], reading);
    }
}

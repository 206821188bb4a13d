using Acquire.Instruments.Lines;
using Acquire.Instruments.Profiles;
using Acquire.Instruments.Tests.Profiles;

namespace Acquire.Instruments.Tests.Lines;

/// <summary>LineWriter → random chunks → LineFramer → LineInterpreter, for every shipped profile.</summary>
public sealed class RoundTripTests
{
    private static readonly DateTimeOffset Start = new(2026, 3, 2, 18, 0, 0, TimeSpan.Zero);

    // Implied decimals in four characters hold −1.99 … 9.99.
    private static readonly Gen<decimal> Value = Gen.Int[-1990, 4000].Select(n => n / 1000m);

    private static readonly Gen<(ChannelDensities Densities, int[] Cuts)> Case = Gen.Select(
        Gen.Select(Value, Value, Value, Value, (r, g, b, v) => new ChannelDensities(new(r), new(g), new(b), new(v))),
        Gen.Int[1, 5].Array[1, 20]);

    public static TheoryData<string> Names() => ShippedProfiles.Names();

    [Theory]
    [MemberData(nameof(Names))]
    public void Written_reading_is_read_back_as_shown_on_the_display(string name)
    {
        var profile = ShippedProfiles.Get(name);
        var writer = new LineWriter(profile);
        Case.Sample(c =>
        {
            var last = Feed(profile, writer.WriteReading(c.Densities), c.Cuts)[^1];
            var taken = Assert.IsType<InstrumentEvent.ReadingTaken>(last);
            Assert.Equal(writer.Channels.Order(), taken.Reading.Densities.Present);
            foreach (var channel in writer.Channels)
            {
                var shown = Math.Round(c.Densities[channel]!.Value.Value, profile.Number.Decimals!.Value, MidpointRounding.AwayFromZero);
                Assert.Equal(shown, taken.Reading.Densities[channel]!.Value.Value);
                Assert.Equal(profile.Number.Decimals, taken.Reading.Densities[channel]!.Value.Decimals);
            }
        });
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Written_over_range_names_its_channel_and_makes_no_reading(string name)
    {
        var profile = ShippedProfiles.Get(name);
        var writer = new LineWriter(profile);
        Gen.Select(Case, Gen.Int[0, writer.Channels.Length - 1].Select(i => writer.Channels[i])).Sample((c, channel) =>
        {
            var events = Feed(profile, writer.WriteBeyondRange(c.Densities, channel), c.Cuts);
            Assert.Equal([channel], Assert.IsType<InstrumentEvent.BeyondRange>(events[^1]).Channels);
            Assert.All(events.SkipLast(1), e => Assert.Equal(LineMeaning.Partial, e.Meaning));
        });
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Written_error_is_read_as_an_error(string name)
    {
        var profile = ShippedProfiles.Get(name);
        Assert.IsType<InstrumentEvent.InstrumentError>(Assert.Single(Feed(profile, new LineWriter(profile).WriteError(), [3])));
    }

    [Fact]
    public void Reading_without_a_channel_that_the_profile_sends_is_refused_by_name()
    {
        var writer = new LineWriter(ShippedProfiles.Get("vrgb-columns"));
        var fault = Assert.Throws<ArgumentException>(() => writer.WriteReading(ChannelDensities.Rgb(0.26m, 0.62m, 0.80m)));
        Assert.Contains("visual", fault.Message, StringComparison.Ordinal);
    }

    private static List<InstrumentEvent> Feed(DeviceProfile profile, IEnumerable<byte[]> lines, int[] cuts)
    {
        var framer = new LineFramer(profile.Framing, profile.Link.MaskTopBit);
        var interpreter = new LineInterpreter(profile);
        var events = new List<InstrumentEvent>();
        foreach (var line in lines)
        {
            var cut = 0;
            for (var at = 0; at < line.Length;)
            {
                var size = Math.Min(cuts[cut++ % cuts.Length], line.Length - at);
                events.AddRange(framer.Push(line.AsSpan(at, size), Start).Select(interpreter.Interpret));
                at += size;
            }

            events.AddRange(framer.Flush(Start + (profile.Framing.IdleGap ?? TimeSpan.Zero)).Select(interpreter.Interpret));
        }

        return events;
    }
}

using Acquire.Instruments.Lines;
using Acquire.Instruments.Profiles;
using Acquire.Instruments.Simulation;
using Acquire.Instruments.Tests.Links;
using Acquire.Instruments.Tests.Profiles;
using static Acquire.Instruments.Tests.Links.LinkFixture;

namespace Acquire.Instruments.Tests.Simulation;

/// <summary>From the simulated film through a real pseudo-terminal, a serial port and a profile back to readings.</summary>
public sealed class SimulatedLineTests
{
    public static TheoryData<string> Profiles() => ShippedProfiles.Names();

    [Theory]
    [MemberData(nameof(Profiles))]
    public async Task Every_reading_that_was_sent_is_received(string name)
    {
        var profile = ShippedProfiles.Get(name);
        await using var fixture = new LinkFixture();
        await using var link = await fixture.OpenAsync(profile.Link);

        // A line that only a pause ends must not be torn by a busy machine.
        var split = profile.Framing.IdleGap is null ? 0.5 : 0;
        var sent = await ReceiveAsync(
            fixture.Terminal, link, profile, new SimulatedFaults { Split = split, SplitGap = TimeSpan.FromMilliseconds(1) });

        Assert.All(sent, pair => Assert.Equal(pair.Sent, pair.Received));
    }

    [Fact]
    public async Task Every_reading_crosses_a_network_port_too()
    {
        await using var fixture = new LinkFixture();
        await using var port = SimulatedTcpPort.Listen(0);
        await using var link = await fixture.Opener.OpenAsync(port.Address, new(), Token);

        var sent = await ReceiveAsync(port, link, ShippedProfiles.Get("rgb-columns"), new SimulatedFaults { Split = 1 });

        Assert.All(sent, pair => Assert.Equal(pair.Sent, pair.Received));
    }

    private static async Task<(string Sent, string Received)[]> ReceiveAsync(
        ISimulatedPort port, Instruments.Links.IByteLink link, DeviceProfile profile, SimulatedFaults faults)
    {
        var strips = profile.Framing.IdleGap is null ? 4 : 1; // real pauses take real time
        var options = new SimulatedDensitometerOptions
        {
            ReadsPerPatch = 1, Strips =
                strips, BeforeFirst = TimeSpan.Zero, BetweenReadings = TimeSpan.Zero, BetweenStrips = TimeSpan.Zero, Faults = faults,
        };
        var sent = new ReadingList();
        var instrument = new SimulatedDensitometer(profile, FilmStories.OnAim, port, options, TimeProvider.System);
        var running = instrument.RunAsync(sent, Token);
        List<Reading> received = [];
        await foreach (var happened in InstrumentReader.ReadAllAsync(link, profile, TimeProvider.System, Token))
        {
            if (happened is not InstrumentEvent.ChannelTaken)
            {
                received.Add(Assert.IsType<InstrumentEvent.ReadingTaken>(happened).Reading);
            }

            if (received.Count == strips * FilmStories.OnAim.Patches.Length)
            {
                break;
            }
        }

        await running;
        Assert.Equal(sent.All.Length, received.Count);
        return [.. sent.All.Zip(received, (s, r) => (Text(s.Densities, r), r.Densities.ToString()))];
    }

    // Of what the display showed, the channels that the profile sends.
    private static string Text(ChannelDensities shown, Reading received) =>
        string.Join(' ', received.Densities.Present.Select(c => $"{c.Letter()} {shown[c]}"));
}

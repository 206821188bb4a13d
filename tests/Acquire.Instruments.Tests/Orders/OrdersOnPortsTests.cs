using Acquire.Instruments.Lines;
using Acquire.Instruments.Links;
using Acquire.Instruments.Orders;
using Acquire.Instruments.Profiles;
using Acquire.Instruments.Simulation;
using Acquire.Instruments.Tests.Links;
using Acquire.Instruments.Tests.Links.Telnet;
using Acquire.Instruments.Tests.Profiles;
using Acquire.Instruments.Tests.Simulation;
using static Acquire.Instruments.Tests.Links.LinkFixture;

namespace Acquire.Instruments.Tests.Orders;

/// <summary>Orders over a real pseudo-terminal, a TCP port and a server of RFC 2217, obeyed by the simulated instrument.</summary>
public sealed class OrdersOnPortsTests
{
    private static readonly DeviceProfile Profile = ShippedProfiles.Get("told-to-read");

    [Fact]
    public async Task Strip_is_read_over_a_pseudo_terminal_one_reading_for_each_trigger()
    {
        await using var fixture = new LinkFixture();
        await using var bench = await Bench.SitAsync(fixture, fixture.Terminal, new SimulatedFaults());
        var who = await bench.Orders.IdentifyAsync(Token);
        Assert.Equal(new InstrumentIdentity("10427", "1.2", null), who.Identity);
        for (var reading = 1; reading <= FilmStories.OnAim.Patches.Length; reading++)
        {
            Assert.Equal(OrderEnd.Answered, (await bench.Orders.TriggerAsync(Token)).End);
            Assert.Equal(reading, bench.Readings);
        }

        await bench.Instrument;
        Assert.Equal(bench.Shown, bench.Received);
    }

    [Fact]
    public async Task Strip_is_read_over_a_network_port()
    {
        await using var fixture = new LinkFixture();
        await using var port = SimulatedTcpPort.Listen(0);
        await using var bench = await Bench.SitAsync(fixture, port, new SimulatedFaults());
        for (var reading = 1; reading <= FilmStories.OnAim.Patches.Length; reading++)
        {
            Assert.Equal(OrderEnd.Answered, (await bench.Orders.TriggerAsync(Token)).End);
        }

        await bench.Instrument;
        Assert.Equal(bench.Shown, bench.Received);
    }

    [Fact]
    [Trait("Source", "RFC 2217, section 1: 0xFF in the data is doubled")]
    public async Task Trigger_crosses_a_serial_server_byte_for_byte()
    {
        var server = new ScriptedServer();
        await using var link = await TelnetOpening.RunAsync(
            server, new LinkSettings(), TimeSpan.FromSeconds(3), TimeProvider.System, Token);
        server.Sent.Clear();
        var told = Profile with { Commands = new() { Trigger = new(ByteText.Parse("<0xFF><NUL>M<CR>"), TimeSpan.FromSeconds(5)) } };
        var orders = new InstrumentOrders(told, TimeProvider.System);
        await using var receptions = orders.ReceiveAllAsync(link, Token).GetAsyncEnumerator(Token);
        Assert.True(await receptions.MoveNextAsync());
        var order = orders.TriggerAsync(Token);
        Assert.Equal([0xFF, 0xFF, 0x00, (byte)'M', 0x0D], server.Sent);
        server.Send("R=0.26 G=0.62 B=0.80\r\n"u8.ToArray());
        while (receptions.Current.Events.IsEmpty)
        {
            Assert.True(await receptions.MoveNextAsync());
        }

        Assert.Equal(OrderEnd.Answered, (await order).End);
    }

    [Fact]
    public async Task Deaf_instrument_leaves_a_trigger_unanswered_and_nothing_is_read()
    {
        await using var fixture = new LinkFixture();
        await using var bench =
            await Bench.SitAsync(fixture, fixture.Terminal, new SimulatedFaults { Deaf = 1 }, TimeSpan.FromMilliseconds(300));
        var outcome = await bench.Orders.TriggerAsync(Token);
        Assert.Equal(OrderEnd.Unanswered, outcome.End);
        Assert.StartsWith("No reading came within 0.3 s.", outcome.Message, StringComparison.Ordinal);
        Assert.Equal(0, bench.Readings);
    }

    [Fact]
    public async Task Terminal_that_is_hung_up_while_a_reading_is_awaited_is_told_and_not_waited_for()
    {
        await using var fixture = new LinkFixture();
        await using var bench = await Bench.SitAsync(fixture, fixture.Terminal, new SimulatedFaults { Deaf = 1 });
        var order = bench.Orders.TriggerAsync(Token);
        await fixture.Terminal.DisposeAsync();
        Assert.Equal(OrderEnd.Unanswered, (await order).End);
        Assert.Equal(OrderEnd.Refused, (await bench.Orders.TriggerAsync(Token)).End);
    }

    [Fact]
    public async Task Port_that_goes_while_a_reading_is_awaited_is_told_and_not_waited_for()
    {
        await using var fixture = new LinkFixture();
        await using var port = SimulatedTcpPort.Listen(0);
        await using var bench = await Bench.SitAsync(fixture, port, new SimulatedFaults { Deaf = 1 });
        var order = bench.Orders.TriggerAsync(Token);
        await port.DisposeAsync();
        Assert.Equal(OrderEnd.Unanswered, (await order).End);
        Assert.Equal(OrderEnd.Refused, (await bench.Orders.TriggerAsync(Token)).End);
    }

    /// <summary>A simulated instrument that reads one strip when told, and a reader of its port.</summary>
    private sealed class Bench : IAsyncDisposable
    {
        private readonly CancellationTokenSource _stop = CancellationTokenSource.CreateLinkedTokenSource(Token);
        private readonly List<string> _received = [];
        private IByteLink? _link;
        private Task _reading = Task.CompletedTask;

        public required InstrumentOrders Orders { get; init; }

        public ReadingList Sent { get; } = new();

        public Task Instrument { get; private set; } = Task.CompletedTask;

        /// <summary>What the display showed of the channels that the profile sends.</summary>
        public IEnumerable<string> Shown =>
            Sent.All.Select(r => string.Join(' ', Channels.Colours.Select(c => $"{c.Letter()} {r.Densities[c]}")));

        public int Readings => Received.Count;

        public IReadOnlyList<string> Received
        {
            get
            {
                lock (_received)
                {
                    return [.. _received];
                }
            }
        }

        public static async Task<Bench> SitAsync(
            LinkFixture fixture, ISimulatedPort port, SimulatedFaults faults, TimeSpan? within = null)
        {
            var told = Profile with
            {
                Commands = Profile.Commands with
                {
                    Trigger = Profile.Commands.Trigger! with { Within = within ?? Profile.Commands.Trigger.Within },
                },
            };
            var options = new SimulatedDensitometerOptions
            {
                OnlyWhenTold = true, ReadsPerPatch = 1, Strips = 1, BeforeFirst = TimeSpan.Zero, Faults = faults,
            };
            var bench = new Bench { Orders = new InstrumentOrders(told, TimeProvider.System) };
            var instrument = new SimulatedDensitometer(told, FilmStories.OnAim, port, options, TimeProvider.System);
            bench.Instrument = instrument.RunAsync(bench.Sent, bench._stop.Token);
            bench._link = await new InstrumentOpener(fixture.Opener, told, TimeProvider.System).OpenAsync(port.Address, told.Link, Token);
            bench._reading = bench.ReadAsync();
            return bench;
        }

        public async ValueTask DisposeAsync()
        {
            await _stop.CancelAsync();
            await Instrument.ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
            await _reading;
            await _link!.DisposeAsync();
            _stop.Dispose();
        }

        private async Task ReadAsync()
        {
            try
            {
                await foreach (var reception in Orders.ReceiveAllAsync(_link!, _stop.Token))
                {
                    lock (_received)
                    {
                        _received.AddRange(reception.Events.OfType<InstrumentEvent.ReadingTaken>().Select(
                            r => r.Reading.Densities.ToString()));
                    }
                }
            }
            catch (Exception e) when (e is LinkException or OperationCanceledException)
            {
                // The link is gone, or the test is over.
            }
        }
    }
}

using System.Text;
using Acquire.Instruments.Links;
using Acquire.Instruments.Simulation;
using static Acquire.Instruments.Tests.Links.LinkFixture;

namespace Acquire.Instruments.Tests.Simulation;

public sealed class SimulatedTcpPortTests
{
    private static readonly LinkOpener Opener = new(TimeProvider.System);

    [Fact]
    public async Task Listeners_are_served_one_after_the_other()
    {
        await using var port = SimulatedTcpPort.Listen(0);
        for (var number = 1; number <= 3; number++)
        {
            await using (var link = await Opener.OpenAsync(port.Address, new LinkSettings(), Token))
            {
                await port.WriteAsync(Encoding.ASCII.GetBytes($"{number}\n"), Token);
                Assert.Equal($"{number}\n", await ReadAsync(link, 2));
                Assert.Equal(number, port.Arrivals);
            }

            while (port.WaitForListenerAsync(Token).IsCompleted)
            {
                await Task.Yield();
            }
        }
    }

    [Fact]
    public async Task Taken_port_is_refused_in_words()
    {
        await using var port = SimulatedTcpPort.Listen(0);
        var taken = ((LinkAddress.Tcp)port.Address).Port;

        Assert.Equal(LinkFault.InUse, Assert.Throws<LinkException>(() => SimulatedTcpPort.Listen(taken)).Fault);
    }

    [Fact]
    public async Task Closing_ends_every_wait()
    {
        var port = SimulatedTcpPort.Listen(0);
        var sending = port.WriteAsync("R"u8.ToArray(), Token).AsTask();
        var reading = port.ReadAsync(new byte[16], Token).AsTask();

        await port.DisposeAsync();
        await port.DisposeAsync();

        _ = await Assert.ThrowsAsync<ObjectDisposedException>(() => sending);
        Assert.Equal(0, await reading);
    }
}

using System.Text;
using Acquire.Instruments.Links;
using Acquire.Instruments.Simulation;
using static Acquire.Instruments.Tests.Links.LinkFixture;

namespace Acquire.Instruments.Tests.Links;

public sealed class TcpLinkTests
{
    private static readonly LinkOpener Opener = new(TimeProvider.System);

    [Theory]
    [InlineData(false, "\u00B0.26\r\n")]
    [InlineData(true, "0.26\r\n")]
    public async Task Bytes_arrive_masked_only_when_asked(bool mask, string expected)
    {
        await using var port = SimulatedTcpPort.Listen(0);
        await using var link = await Opener.OpenAsync(port.Address, new LinkSettings { MaskTopBit = mask }, Token);

        await port.WriteAsync(Encoding.Latin1.GetBytes("\u00B0.26\r\n"), Token);

        Assert.Equal(expected, await ReadAsync(link, 6));
    }

    [Fact]
    public async Task Bytes_are_written_to_the_server()
    {
        await using var port = SimulatedTcpPort.Listen(0);
        await using var link = await Opener.OpenAsync(port.Address, new LinkSettings(), Token);

        await link.WriteAsync("?\r\n"u8.ToArray(), Token);

        Assert.Equal(3, await port.ReadAsync(new byte[16], Token));
    }

    [Fact]
    public async Task Server_that_closes_is_gone_and_stays_so()
    {
        await using var port = SimulatedTcpPort.Listen(0);
        await using var link = await Opener.OpenAsync(port.Address, new LinkSettings(), Token);
        await port.WaitForListenerAsync(Token);

        await port.DisposeAsync();

        Assert.Equal(LinkFault.Gone, (await FaultOfReadAsync(link)).Fault);
        Assert.Equal(LinkFault.Gone, (await FaultOfReadAsync(link)).Fault);
        Assert.Equal(
            LinkFault.Gone, (await Assert.ThrowsAsync<LinkException>(async () => await link.WriteAsync("?"u8.ToArray(), Token))).Fault);
    }

    [Fact]
    public async Task Port_on_which_nothing_listens_is_not_found()
    {
        var port = SimulatedTcpPort.Listen(0);
        await port.DisposeAsync();

        var e = await Assert.ThrowsAsync<LinkException>(async () => await Opener.OpenAsync(port.Address, new LinkSettings(), Token));

        Assert.Equal(LinkFault.NotFound, e.Fault);
        Assert.Contains($"Nothing listens at {port.Address}", e.Message, StringComparison.Ordinal);
    }

    // The top-level domain "invalid" never resolves (RFC 2606).
    [Fact]
    public async Task Unknown_host_is_not_found()
    {
        var address = new LinkAddress.Tcp("densitometer.invalid", 4001);

        var e = await Assert.ThrowsAsync<LinkException>(async () => await Opener.OpenAsync(address, new LinkSettings(), Token));

        Assert.Equal(LinkFault.NotFound, e.Fault);
    }

    [Fact]
    public async Task Closing_ends_a_waiting_read()
    {
        await using var port = SimulatedTcpPort.Listen(0);
        var link = await Opener.OpenAsync(port.Address, new LinkSettings(), Token);
        var read = FaultOfReadAsync(link);

        await link.DisposeAsync();

        Assert.Equal(LinkFault.Broken, (await read).Fault);
    }
}

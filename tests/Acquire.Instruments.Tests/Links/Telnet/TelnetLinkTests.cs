using Acquire.Instruments.Links;
using Microsoft.Extensions.Time.Testing;

namespace Acquire.Instruments.Tests.Links.Telnet;

public sealed class TelnetLinkTests
{
    private static CancellationToken Token => TestContext.Current.CancellationToken;

    /// <summary>Numbers of commands and values from RFC 2217, section 3.</summary>
    [Fact]
    [Trait("Source", "RFC 2217")]
    public async Task Rate_framing_and_control_lines_are_set_as_asked()
    {
        var server = new ScriptedServer();
        var settings = new LinkSettings
        {
            Baud = 1200, DataBits = 7, Parity = LineParity.Even, StopBits = 2, Dtr = ControlLine.On, Rts = ControlLine.Off,
        };
        await using var link = await OpenAsync(server, settings);
        Assert.Equal(["1=000004B0", "2=07", "3=03", "4=02", "5=01", "5=08", "5=0C"], server.Asked);
        Assert.Empty(link.Notices);
    }

    [Fact]
    public async Task Control_lines_that_are_to_be_left_alone_are_not_mentioned()
    {
        var server = new ScriptedServer();
        await using var link = await OpenAsync(server, new LinkSettings { Handshake = Handshake.RtsCts, Rts = ControlLine.On });
        Assert.Equal(["1=00002580", "2=08", "3=01", "4=01", "5=03"], server.Asked);
    }

    [Fact]
    public async Task Data_is_escaped_both_ways_and_messages_in_between_are_no_data()
    {
        var server = new ScriptedServer();
        await using var link = await OpenAsync(server, new LinkSettings());
        server.Sent.Clear();
        await link.WriteAsync(new byte[] { 1, 255, 2 }, Token);
        Assert.Equal([1, 255, 255, 2], server.Sent);

        // Data, an escaped 0xFF, a notice of the modem lines, a request to echo, data.
        server.Send([82, 255, 255, 255, 250, 44, 107, 48, 255, 240, 255, 251, 1, 13]);
        Assert.Equal([82, 255, 13], await ReadAsync(link, 3));
        Assert.Equal([255, 254, 1], server.Sent[4..]);
    }

    [Fact]
    public async Task Data_that_comes_while_the_port_is_set_is_kept()
    {
        var server = new ScriptedServer();
        server.Send("R 0.26"u8.ToArray());
        await using var link = await OpenAsync(server, new LinkSettings());
        Assert.Equal("R 0.26"u8.ToArray(), await ReadAsync(link, 6));
    }

    [Fact]
    public async Task Seven_bits_are_masked()
    {
        var server = new ScriptedServer();
        await using var link = await OpenAsync(server, new LinkSettings { DataBits = 7 });
        server.Send(0xB0);
        Assert.Equal([0x30], await ReadAsync(link, 1));
    }

    [Theory]
    [InlineData((byte)254)]
    [InlineData(null)]
    public async Task Server_that_does_not_let_its_port_be_set_is_said(byte? says)
    {
        var fault = await FaultAsync(new ScriptedServer { SaysToComPort = says }, new LinkSettings());
        Assert.Equal(LinkFault.BadSettings, fault.Fault);
        Assert.Contains("tcp:darkroom:2217", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Rate_that_the_server_sets_otherwise_is_said()
    {
        var fault = await FaultAsync(
            new ScriptedServer { Sets = (command, value) => command == 1 ? [0, 0, 0x25, 0x80] : value }, new LinkSettings { Baud = 300 });
        Assert.Contains("cannot set 300 baud", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Parity_that_the_server_refuses_is_received_as_eight_bits_and_masked()
    {
        var server = new ScriptedServer { Sets = (command, value) => command == 3 ? [1] : value };
        await using var link = await OpenAsync(server, new LinkSettings { DataBits = 7, Parity = LineParity.Even });
        Assert.Equal(["2=07", "3=03", "2=08", "3=01"], server.Asked.Where(a => a[0] is '2' or '3'));
        Assert.Contains("the top bit is cleared", Assert.Single(link.Notices), StringComparison.Ordinal);
        server.Send(0xB0);
        Assert.Equal([0x30], await ReadAsync(link, 1));
    }

    [Fact]
    public async Task Flow_control_that_is_not_set_or_not_confirmed_is_a_notice()
    {
        await using var refusing =
            await OpenAsync(new ScriptedServer { Sets = (command, value) => command == 5 ? [9] : value }, new LinkSettings());
        Assert.Equal(["rfc2217:darkroom:2217 did not set flow control."], refusing.Notices);
        await using var silent =
            await OpenAsync(new ScriptedServer { Sets = (command, value) => command == 4 ? null : value }, new LinkSettings());
        Assert.Equal(["rfc2217:darkroom:2217 did not confirm 1 stop bit."], silent.Notices);
    }

    private static async Task<LinkException> FaultAsync(ScriptedServer server, LinkSettings settings) =>
        await Assert.ThrowsAsync<LinkException>(() => OpenAsync(server, settings));

    /// <summary>Opens it; where an answer is missing, time passes.</summary>
    private static async Task<TelnetLink> OpenAsync(ScriptedServer server, LinkSettings settings)
    {
        var time = new FakeTimeProvider();
        var opening = TelnetOpening.RunAsync(server, settings, TimeSpan.FromSeconds(3), time, Token);
        while (!opening.IsCompleted)
        {
            // Slow enough that answers which do come are taken first.
            await Task.Delay(TimeSpan.FromMilliseconds(1), TimeProvider.System, Token);
            time.Advance(TimeSpan.FromMilliseconds(20));
        }

        return await opening;
    }

    private static async Task<byte[]> ReadAsync(TelnetLink link, int count)
    {
        var bytes = new byte[count];
        for (var at = 0; at < count;)
        {
            at += await link.ReadAsync(bytes.AsMemory(at), Token);
        }

        return bytes;
    }
}

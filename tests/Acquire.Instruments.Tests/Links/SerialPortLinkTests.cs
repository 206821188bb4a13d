using System.Diagnostics;
using System.Text;
using Acquire.Instruments.Links;
using Microsoft.Extensions.Time.Testing;
using static Acquire.Instruments.Tests.Links.LinkFixture;

namespace Acquire.Instruments.Tests.Links;

// Pseudo-terminals stand in for ports: they say nothing about speed, parity and modem control lines.
public sealed class SerialPortLinkTests
{
    // What it guards against never returns.
    private static readonly TimeSpan Promptly = TimeSpan.FromSeconds(30);

    [Fact]
    public async Task Bytes_arrive_as_they_were_sent_in_both_directions()
    {
        await using var fixture = new LinkFixture();
        await using var link = await fixture.OpenAsync();
        var all = Encoding.Latin1.GetString([.. Enumerable.Range(0, 256).Select(i => (byte)i)]);

        await fixture.SendAsync(all);
        Assert.Equal(all, await ReadAsync(link, all.Length));

        await link.WriteAsync("?\r\n"u8.ToArray(), Token);
        var asked = new byte[16];
        Assert.Equal(3, await fixture.Terminal.ReadAsync(asked, Token));
    }

    [Fact]
    public async Task Small_buffer_takes_a_chunk_in_pieces()
    {
        await using var fixture = new LinkFixture();
        await using var link = await fixture.OpenAsync();
        await fixture.SendAsync("R 0.26 G 0.62\r\n");

        var text = new StringBuilder();
        var buffer = new byte[2];
        while (text.Length < 15)
        {
            var count = await link.ReadAsync(buffer, Token);
            _ = text.Append(Encoding.ASCII.GetString(buffer, 0, count));
        }

        Assert.Equal("R 0.26 G 0.62\r\n", text.ToString());
    }

    [Fact]
    public async Task Cancelled_read_loses_nothing()
    {
        await using var fixture = new LinkFixture();
        await using var link = await fixture.OpenAsync();
        using var cancel = new CancellationTokenSource();

        var read = link.ReadAsync(new byte[16], cancel.Token).AsTask();
        await cancel.CancelAsync();
        _ = await Assert.ThrowsAnyAsync<OperationCanceledException>(() => read);
        await fixture.SendAsync("0.26\r\n");

        Assert.Equal("0.26\r\n", await ReadAsync(link, 6));
    }

    [Theory]
    [InlineData(7, false)]
    [InlineData(8, true)]
    public async Task Top_bit_is_cleared_where_seven_bits_are_meant(int dataBits, bool mask)
    {
        await using var fixture = new LinkFixture();
        await using var link = await fixture.OpenAsync(new LinkSettings { DataBits = dataBits, MaskTopBit = mask });

        await fixture.SendAsync("\u00B0\u002E\u00B2\u00B6"); // "0.26" with even parity in the top bit

        Assert.Equal("0.26", await ReadAsync(link, 4));
    }

    [Fact]
    public async Task Parity_that_the_system_does_not_have_is_replaced_and_said()
    {
        await using var fixture = new LinkFixture();
        await using var link = await fixture.OpenAsync(new LinkSettings { DataBits = 7, Parity = LineParity.Mark });

        Assert.Contains("7 data bits with mark parity", Assert.Single(link.Notices), StringComparison.Ordinal);
        await fixture.SendAsync("\u00B0");
        Assert.Equal("0", await ReadAsync(link, 1));
    }

    [Fact]
    public async Task Control_lines_that_the_port_does_not_have_are_left_alone_and_said()
    {
        await using var fixture = new LinkFixture();
        await using var link = await fixture.OpenAsync(new LinkSettings { Dtr = ControlLine.On, Rts = ControlLine.On });

        Assert.Contains("no DTR and RTS lines", Assert.Single(link.Notices), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Bytes_that_come_while_the_instrument_settles_are_discarded()
    {
        var time = new FakeTimeProvider();
        await using var fixture = new LinkFixture(time);
        var opening = fixture.OpenAsync(new LinkSettings { SettleAfterOpen = TimeSpan.FromSeconds(2) }).AsTask();
        await fixture.SendAsync("power-on banner\r\n");
        while (!opening.IsCompleted)
        {
            time.Advance(TimeSpan.FromSeconds(2));
            await Task.Yield();
        }

        await using var link = await opening;
        await fixture.SendAsync("0.26\r\n");

        Assert.Equal("0.26\r\n", await ReadAsync(link, 6));
    }

    [Fact]
    public async Task Hang_up_breaks_a_waiting_read_and_closing_is_quick()
    {
        await using var fixture = new LinkFixture();
        var link = await fixture.OpenAsync();
        var clock = Stopwatch.StartNew();
        var read = FaultOfReadAsync(link);

        await fixture.Terminal.DisposeAsync();
        var fault = await read;

        Assert.Equal(LinkFault.Gone, fault.Fault);
        Assert.Contains("densitometer went away", fault.Message, StringComparison.Ordinal);
        await link.DisposeAsync();
        Assert.InRange(clock.Elapsed, TimeSpan.Zero, Promptly);
    }

    [Fact]
    public async Task Port_that_vanished_unread_is_found_by_looking()
    {
        var time = new FakeTimeProvider();
        await using var fixture = new LinkFixture(time);
        await using var link = await fixture.OpenAsync();
        await fixture.SendAsync("0.26\r\n");
        Assert.Equal("0.26\r\n", await ReadAsync(link, 6));

        await fixture.Terminal.DisposeAsync();
        time.Advance(TimeSpan.FromSeconds(1));

        Assert.Equal(LinkFault.Gone, (await FaultOfReadAsync(link)).Fault);
    }

    [Fact]
    public async Task First_fault_stays_and_nothing_is_written_after_it()
    {
        await using var fixture = new LinkFixture();
        await using var link = await fixture.OpenAsync();
        await fixture.Terminal.DisposeAsync();
        var first = await FaultOfReadAsync(link);

        var later = await Assert.ThrowsAsync<LinkException>(async () => await link.WriteAsync("?"u8.ToArray(), Token));

        Assert.Equal((first.Fault, first.Message), (later.Fault, later.Message));
    }

    [Fact]
    public async Task Closing_ends_a_waiting_read_and_may_be_repeated()
    {
        await using var fixture = new LinkFixture();
        var link = await fixture.OpenAsync();
        var read = FaultOfReadAsync(link);

        await link.DisposeAsync();
        await link.DisposeAsync();

        Assert.Equal(LinkFault.Broken, (await read).Fault);
    }

    [Fact]
    public async Task Closing_after_a_write_into_a_dead_port_is_quick()
    {
        await using var fixture = new LinkFixture(new FakeTimeProvider());
        var link = await fixture.OpenAsync();
        await fixture.Terminal.DisposeAsync();

        _ = await Assert.ThrowsAsync<LinkException>(async () => await link.WriteAsync("?"u8.ToArray(), Token));
        var clock = Stopwatch.StartNew();
        await link.DisposeAsync();

        Assert.InRange(clock.Elapsed, TimeSpan.Zero, Promptly);
    }

    [Fact]
    public async Task Port_that_came_back_is_opened_anew()
    {
        await using var first = new LinkFixture();
        await using var second = new LinkFixture();
        foreach (var fixture in (LinkFixture[])[first, second, second])
        {
            await using var link = await fixture.OpenAsync();
            await fixture.SendAsync("0.26\r\n");
            Assert.Equal("0.26\r\n", await ReadAsync(link, 6));
        }
    }
}

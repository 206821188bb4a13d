using System.Diagnostics;
using Acquire.Instruments.Links;
using Acquire.Instruments.Simulation;
using Acquire.Instruments.Tests.Links;
using static Acquire.Instruments.Tests.Links.LinkFixture;

namespace Acquire.Instruments.Tests.Simulation;

public sealed class PseudoTerminalTests
{
    // What it guards against never returns.
    private static readonly TimeSpan Promptly = TimeSpan.FromSeconds(30);

    [Fact]
    public async Task Bytes_wait_until_somebody_listens()
    {
        await using var fixture = new LinkFixture();
        var sending = fixture.SendAsync("R 0.26\r\n").AsTask();
        Assert.False(fixture.Terminal.WaitForListenerAsync(Token).IsCompleted);

        await using var link = await fixture.OpenAsync();
        await sending;

        Assert.Equal("R 0.26\r\n", await ReadAsync(link, 8));
        Assert.True(fixture.Terminal.WaitForListenerAsync(Token).IsCompletedSuccessfully);
    }

    [Fact]
    public async Task Listeners_come_and_go()
    {
        await using var fixture = new LinkFixture();
        for (var number = 1; number <= 3; number++)
        {
            await using (var link = await fixture.OpenAsync())
            {
                await fixture.Terminal.WaitForListenerAsync(Token);
                Assert.Equal(number, fixture.Terminal.Arrivals);
                await fixture.SendAsync($"{number}\n");
                Assert.Equal($"{number}\n", await ReadAsync(link, 2));
            }

            while (fixture.Terminal.WaitForListenerAsync(Token).IsCompleted)
            {
                await Task.Yield();
            }
        }
    }

    [Fact]
    public async Task Nothing_is_echoed_back()
    {
        await using var fixture = new LinkFixture();
        await using var link = await fixture.OpenAsync();

        await fixture.SendAsync("R 0.26\r\n");
        Assert.Equal("R 0.26\r\n", await ReadAsync(link, 8));
        await link.WriteAsync("?"u8.ToArray(), Token);
        var buffer = new byte[16];

        Assert.Equal(1, await fixture.Terminal.ReadAsync(buffer, Token));
        Assert.Equal((byte)'?', buffer[0]);
    }

    [Fact]
    public async Task Flood_beyond_the_systems_buffer_arrives_whole()
    {
        await using var fixture = new LinkFixture();
        await using var link = await fixture.OpenAsync();
        var flood = string.Concat(Enumerable.Range(0, 4000).Select(i => $"{i:D5}\r\n"));

        var sending = fixture.SendAsync(flood).AsTask();

        Assert.Equal(flood, await ReadAsync(link, flood.Length));
        await sending;
    }

    [Fact]
    public async Task Closing_ends_every_wait_promptly()
    {
        var terminal = PseudoTerminal.Open(TimeProvider.System);
        var waiting = terminal.WaitForListenerAsync(Token);
        var sending = terminal.WriteAsync("R"u8.ToArray(), Token).AsTask();
        var reading = terminal.ReadAsync(new byte[16], Token).AsTask();
        var clock = Stopwatch.StartNew();

        await terminal.DisposeAsync();
        await terminal.DisposeAsync();

        _ = await Assert.ThrowsAsync<ObjectDisposedException>(() => waiting);
        _ = await Assert.ThrowsAsync<ObjectDisposedException>(() => sending);
        Assert.Equal(0, await reading);
        Assert.InRange(clock.Elapsed, TimeSpan.Zero, Promptly);
        Assert.False(File.Exists(terminal.SlavePath));
    }

    [Fact]
    public async Task Wished_link_leads_to_the_device_replaces_an_older_one_and_is_removed()
    {
        var folder = Directory.CreateTempSubdirectory("pty-");
        try
        {
            var path = Path.Combine(folder.FullName, "densitometer");
            _ = File.CreateSymbolicLink(
                path, OperatingSystem.IsMacOS() ? "/dev/ttys987654" : "/dev/pts/987654"); // one that is gone
            await using (var terminal = PseudoTerminal.Open(TimeProvider.System, path))
            {
                Assert.Equal(terminal.SlavePath, new FileInfo(path).LinkTarget);
                Assert.Equal(new LinkAddress.Serial(path), terminal.Address);
            }

            Assert.Null(new FileInfo(path).LinkTarget);
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    [Fact]
    public void Wished_link_never_replaces_a_file()
    {
        var file = Path.GetTempFileName();
        try
        {
            var e = Assert.Throws<LinkException>(() => PseudoTerminal.Open(TimeProvider.System, file));

            Assert.Contains(file, e.Message, StringComparison.Ordinal);
            Assert.True(File.Exists(file));
        }
        finally
        {
            File.Delete(file);
        }
    }

    /// <summary>A link of another program's or of the user's is a file like any other: an instrument's stable name, a data file.</summary>
    [Theory]
    [InlineData("/dev/ttyUSB7")]
    [InlineData("strips.csv")]
    public void Wished_link_never_replaces_a_link_that_is_not_of_its_kind(string target)
    {
        var folder = Directory.CreateTempSubdirectory("pty-");
        try
        {
            var path = Path.Combine(folder.FullName, "densitometer");
            _ = File.CreateSymbolicLink(path, target);

            var e = Assert.Throws<LinkException>(() => PseudoTerminal.Open(TimeProvider.System, path));

            Assert.Contains(path, e.Message, StringComparison.Ordinal);
            Assert.Equal(target, new FileInfo(path).LinkTarget);
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }
}

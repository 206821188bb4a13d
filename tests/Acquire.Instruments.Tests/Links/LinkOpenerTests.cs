using System.Diagnostics;
using System.Text.Json;
using Acquire.Instruments.Links;
using Acquire.Instruments.Simulation;
using static Acquire.Instruments.Tests.Links.LinkFixture;

namespace Acquire.Instruments.Tests.Links;

public sealed class LinkOpenerTests
{
    [Fact]
    public async Task Missing_port_is_not_found()
    {
        await using var fixture = new LinkFixture();

        var e = await FaultOfOpeningAsync(fixture, "/dev/ttyNOSUCH0");

        Assert.Equal(LinkFault.NotFound, e.Fault);
        Assert.Contains("There is no port /dev/ttyNOSUCH0.", e.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Plain_file_and_folder_are_no_ports()
    {
        await using var fixture = new LinkFixture();
        var file = Path.Combine(fixture.Folder, "capture.txt");
        await File.WriteAllTextAsync(file, "R 0.26", Token);

        Assert.Equal(LinkFault.BadSettings, (await FaultOfOpeningAsync(fixture, file)).Fault);
        Assert.Equal(LinkFault.BadSettings, (await FaultOfOpeningAsync(fixture, fixture.Folder)).Fault);
        Assert.Equal("R 0.26", await File.ReadAllTextAsync(file, Token));
    }

    [Fact]
    public async Task Device_that_is_no_terminal_is_refused_in_words()
    {
        await using var fixture = new LinkFixture();

        var e = await FaultOfOpeningAsync(fixture, "/dev/null");

        Assert.Contains("/dev/null", e.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Second_opener_is_told_who_holds_the_port()
    {
        await using var fixture = new LinkFixture();
        await using var link = await fixture.OpenAsync();

        var e = await FaultOfOpeningAsync(fixture, fixture.Terminal.SlavePath);

        Assert.Equal(LinkFault.InUse, e.Fault);
        Assert.Contains(
            $"held by acquire read, process {Environment.ProcessId}, user {Environment.UserName}, since 2",
            e.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Closed_port_is_free_again()
    {
        await using var fixture = new LinkFixture();
        await using (await fixture.OpenAsync())
        {
        }

        await using var again = await fixture.OpenAsync();

        Assert.Empty(again.Notices);
    }

    [Fact]
    public async Task Note_of_a_program_that_is_gone_does_not_hold_the_port()
    {
        await using var fixture = new LinkFixture();
        var stem = Path.Combine(fixture.Options.LockFolder, Uri.EscapeDataString(fixture.Terminal.SlavePath));
        _ = Directory.CreateDirectory(fixture.Options.LockFolder);
        await File.WriteAllTextAsync(stem + ".lock", "", Token);
        await File.WriteAllTextAsync(stem + ".json", JsonSerializer.Serialize(new PortHolder("acquire serve", 1)), Token);

        await using var link = await fixture.OpenAsync();

        Assert.Contains("acquire read", await File.ReadAllTextAsync(stem + ".json", Token), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Port_without_a_place_for_locks_opens_with_a_notice()
    {
        await using var fixture = new LinkFixture();
        await File.WriteAllTextAsync(fixture.Options.LockFolder, "a file where the folder should be", Token);

        await using var link = await fixture.OpenAsync();

        Assert.Contains("No lock could be made", Assert.Single(link.Notices), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task Lock_folder_that_others_can_write_or_that_is_a_link_is_not_used(bool isLink)
    {
        await using var fixture = new LinkFixture();
        Assert.SkipWhen(OperatingSystem.IsWindows(), "Permissions are Unix'.");
        var real = Directory.CreateDirectory(isLink ? Path.Combine(fixture.Folder, "elsewhere") : fixture.Options.LockFolder);
        if (isLink)
        {
            _ = Directory.CreateSymbolicLink(fixture.Options.LockFolder, real.FullName);
        }
        else if (!OperatingSystem.IsWindows())
        {
            real.UnixFileMode |= UnixFileMode.OtherWrite;
        }

        await using var link = await fixture.OpenAsync();

        Assert.Contains("not a folder of this user alone", Assert.Single(link.Notices), StringComparison.Ordinal);
        Assert.Empty(real.GetFileSystemInfos());
    }

    [Fact]
    public async Task Port_that_another_process_has_open_names_the_process()
    {
        await using var fixture = new LinkFixture();
        Assert.SkipUnless(OperatingSystem.IsLinux(), "The list of open files is Linux'.");
        using var other = Process
            .Start(new ProcessStartInfo("bash", ["-c", $"exec 3<>{fixture.Terminal.SlavePath}; echo open; read -r line"])
        {
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
        })!;
        try
        {
            _ = await other.StandardOutput.ReadLineAsync(Token);

            var e = await FaultOfOpeningAsync(fixture, fixture.Terminal.SlavePath);

            Assert.Equal(LinkFault.InUse, e.Fault);
            Assert.Contains($"held by bash, process {other.Id}", e.Message, StringComparison.Ordinal);
        }
        finally
        {
            other.StandardInput.Close();
            await other.WaitForExitAsync(Token);
        }

        await using var link = await fixture.OpenAsync(); // the refused try has left no lock behind
    }

    [Fact]
    public async Task Wrong_settings_are_refused_before_the_port_is_touched()
    {
        await using var fixture = new LinkFixture();

        var e = await Assert.ThrowsAsync<LinkException>(async () => await fixture.OpenAsync(new LinkSettings { Baud = 0 }));

        Assert.Equal(LinkFault.BadSettings, e.Fault);
        Assert.False(Directory.Exists(fixture.Options.LockFolder));
    }

    [Fact]
    public async Task Address_of_a_network_server_opens_a_tcp_link()
    {
        await using var fixture = new LinkFixture();
        await using var port = SimulatedTcpPort.Listen(0);

        await using var link = await fixture.Opener.OpenAsync(port.Address, new LinkSettings(), Token);

        _ = Assert.IsType<TcpLink>(link);
    }

    private static async Task<LinkException> FaultOfOpeningAsync(LinkFixture fixture, string path) =>
        await Assert.ThrowsAsync<LinkException>(
            async () => await fixture.Opener.OpenAsync(new LinkAddress.Serial(path), new LinkSettings(), Token));
}

using Acquire.Instruments.Links;
using Acquire.Instruments.Simulation;

namespace Acquire.Instruments.Tests.Links;

public sealed class PortNamesTests
{
    [Fact]
    public void Ports_are_listed_stable_names_first_and_each_device_once()
    {
        var ports = PortList.Merge(
            [new("/by-id/b", "/dev/ttyUSB1"), new("/by-id/a", "/dev/ttyACM0")],
            ["/dev/ttyS10", "/dev/ttyS2", "/dev/ttyUSB1", "/dev/ttyS2"]);

        Assert.Equal(["/by-id/a (/dev/ttyACM0)", "/by-id/b (/dev/ttyUSB1)", "/dev/ttyS2", "/dev/ttyS10"], ports.Select(p => p.ToString()));
    }

    [Fact]
    public void Listing_the_ports_of_this_computer_never_fails() => Assert.All(PortList.Find(), p => Assert.NotEmpty(p.Path));

    [Fact]
    public void Stable_names_of_a_missing_folder_are_none() => Assert.Empty(PortList.StableLinks("/nowhere/by-id"));

    [Fact]
    public void Stable_name_leads_to_its_device()
    {
        var folder = Directory.CreateTempSubdirectory("ports-");
        try
        {
            File.WriteAllText(Path.Combine(folder.FullName, "device"), "");
            _ = File.CreateSymbolicLink(Path.Combine(folder.FullName, "middle"), "device");
            var links = Directory.CreateDirectory(Path.Combine(folder.FullName, "by-id"));
            _ = File.CreateSymbolicLink(Path.Combine(links.FullName, "usb-a"), "../middle");

            var port = Assert.Single(PortList.StableLinks(links.FullName));

            Assert.Equal(Path.Combine(folder.FullName, "device"), port.Device);
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    // The form of the file: group(5) of the Linux manual pages.
    [Fact]
    public void Groups_are_read_and_odd_lines_left_out()
    {
        var groups = UserGroups.Parse(["dialout:x:20:eva,max", "tty:x:5:", "+::", "bad:x:many:", ""]);

        Assert.Equal(["dialout", "tty"], groups.Select(g => g.Name));
        Assert.Equal([20u, 5u], groups.Select(g => g.Id));
        Assert.Equal(["eva", "max"], groups[0].Members);
        Assert.Empty(groups[1].Members);
    }

    [Fact]
    public async Task Facts_of_a_pseudo_terminal_are_a_device_with_a_group()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux(), "Device nodes are looked at on Linux only.");
        await using var terminal = PseudoTerminal.Open(TimeProvider.System);

        var facts = PortFactsReader.Read(terminal.SlavePath);

        Assert.True(facts is { Exists: true, IsCharacterDevice: true, MayOpen: true });
        Assert.NotEmpty(facts.Ownership!.Group);
    }

    // /dev/null is 1:3, readable and writable for all, on every Linux (kernel documentation, admin-guide/devices).
    [Fact]
    public void Device_node_is_read_as_the_kernel_documents_it()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux(), "Device nodes are looked at on Linux only.");

        var node = DeviceNode.Of("/dev/null")!.Value;

        Assert.True(node.IsCharacterDevice);
        Assert.Equal((1UL << 32) | 3, node.Identity.Device);
        Assert.Equal(0b110_110_110, node.Mode & 0xFFF);
        Assert.Null(DeviceNode.Of("/dev/no-such-device"));
        Assert.False(DeviceNode.Of("/etc/hostname")?.IsCharacterDevice ?? false);
    }
}

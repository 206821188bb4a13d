using Acquire.Instruments.Links;

namespace Acquire.Instruments.Tests.Links;

public sealed class PortDescriptionTests
{
    [Fact]
    public void Adapter_above_the_terminal_describes_the_port()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "Links in folders of this kind exist on Unix only.");
        var root = Directory.CreateTempSubdirectory("sysfs-");
        try
        {
            var port = root.CreateSubdirectory("usb1/1-2/1-2:1.0/ttyUSB0");
            File.WriteAllText(Path.Combine(root.FullName, "usb1", "1-2", "product"), "Serial adapter\n");
            File.WriteAllText(Path.Combine(root.FullName, "usb1", "1-2", "manufacturer"), "Some maker\n");
            File.CreateSymbolicLink(Path.Combine(root.CreateSubdirectory("tty/ttyUSB0").FullName, "device"), port.FullName);
            var terminals = Path.Combine(root.FullName, "tty");
            Assert.Equal("Some maker Serial adapter", PortDescription.Of("/dev/ttyUSB0", terminals));
            Assert.Null(PortDescription.Of("/dev/ttyUSB1", terminals));
        }
        finally
        {
            root.Delete(recursive: true);
        }
    }
}

using Acquire.Instruments.Links;

namespace Acquire.Instruments.Tests.Links;

public sealed class PortDiagnosisTests
{
    private static readonly PortFacts Fine = new(
        "/dev/serial/by-id/usb-a", "/dev/ttyUSB0", true, true, true, new PortOwnership("dialout", true, true), "eva", []);

    [Fact]
    public void Usable_port_has_no_trouble() => Assert.Null(PortDiagnosis.Of(Fine));

    [Fact]
    public void Port_of_an_unknown_kind_is_left_to_the_system() =>
        Assert.Null(PortDiagnosis.Of(Fine with { IsCharacterDevice = null, Ownership = null }));

    [Fact]
    public void Missing_port_lists_the_ports_that_there_are()
    {
        var trouble = Diagnose(Fine with
        {
            Name = "/dev/ttyUSB7",
            ResolvedPath = "/dev/ttyUSB7",
            Exists = false,
            Ports = [new("/dev/serial/by-id/usb-a", "/dev/ttyUSB0"), new("/dev/ttyS0", "/dev/ttyS0")],
        });

        Assert.Equal(LinkFault.NotFound, trouble.Fault);
        Assert.Equal(
            "There is no port /dev/ttyUSB7. Ports that there are: /dev/serial/by-id/usb-a (/dev/ttyUSB0), /dev/ttyS0.", trouble.Message);
    }

    [Fact]
    public void Missing_port_without_others_sends_the_user_to_the_adapter() =>
        Assert.Contains("No serial port was found at all", Diagnose(Fine with { Exists = false }).Message, StringComparison.Ordinal);

    [Fact]
    public void Dangling_link_names_its_target() =>
        Assert.Contains(
            "/dev/serial/by-id/usb-a: it leads to /dev/ttyUSB0", Diagnose(Fine with { Exists = false }).Message, StringComparison.Ordinal);

    [Fact]
    public void Plain_file_is_no_port() => Assert.Equal(LinkFault.BadSettings, Diagnose(Fine with { IsCharacterDevice = false }).Fault);

    [Theory]
    [InlineData(
        "dialout",
        true,
        false,
        "belongs to the group dialout. Add yourself with: sudo usermod -aG dialout eva, then log out and in again.")]
    [InlineData("uucp", true, true, "you are in the group uucp")]
    [InlineData("root", false, false, "udev rule")]
    public void Denied_port_says_what_to_do(string group, bool groupMayOpen, bool listed, string expected)
    {
        var trouble = Diagnose(Fine with { MayOpen = false, Ownership = new PortOwnership(group, groupMayOpen, listed) });

        Assert.Equal(LinkFault.Denied, trouble.Fault);
        Assert.Contains(expected, trouble.Message, StringComparison.Ordinal);
        Assert.Contains("/dev/serial/by-id/usb-a (/dev/ttyUSB0)", trouble.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Denied_port_of_an_unknown_owner_still_says_so() =>
        Assert.Equal(LinkFault.Denied, Diagnose(Fine with { MayOpen = false, Ownership = null }).Fault);

    private static LinkException Diagnose(PortFacts facts) =>
        PortDiagnosis.Of(facts) ?? throw new InvalidOperationException("No trouble was seen.");
}

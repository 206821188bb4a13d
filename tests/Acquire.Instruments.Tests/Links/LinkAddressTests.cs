using Acquire.Instruments.Links;

namespace Acquire.Instruments.Tests.Links;

public sealed class LinkAddressTests
{
    [Theory]
    [InlineData("/dev/ttyUSB0", "/dev/ttyUSB0")]
    [InlineData("  COM3 ", "COM3")]
    [InlineData("serial:/dev/serial/by-id/usb-a:b-port0", "/dev/serial/by-id/usb-a:b-port0")]
    [InlineData("SERIAL:COM3", "COM3")]
    public void Serial_address_is_read(string text, string path) => Assert.Equal(new LinkAddress.Serial(path), LinkAddress.Parse(text));

    [Theory]
    [InlineData("tcp:localhost:5000", "localhost", 5000)]
    [InlineData("TCP:192.0.2.7:65535", "192.0.2.7", 65535)]
    [InlineData("tcp:[2001:db8::1]:4001", "2001:db8::1", 4001)]
    [InlineData("tcp:::1:4001", "::1", 4001)]
    public void Tcp_address_is_read_and_written_back(string text, string host, int port)
    {
        var address = LinkAddress.Parse(text);

        Assert.Equal(new LinkAddress.Tcp(host, port), address);
        Assert.Equal(address, LinkAddress.Parse(address.ToString()));
    }

    [Fact]
    public void Server_address_is_read_and_written_back()
    {
        var address = LinkAddress.Parse("RFC2217:[2001:db8::1]:2217");
        Assert.Equal(new LinkAddress.Rfc2217("2001:db8::1", 2217), address);
        Assert.Equal(address, LinkAddress.Parse(address.ToString()));
    }

    [Theory]
    [InlineData("rfc2217:host")]
    [InlineData("")]
    [InlineData("   ")]
    [InlineData("serial:")]
    [InlineData("/dev/tty\0USB0")]
    [InlineData("tcp:")]
    [InlineData("tcp:host")]
    [InlineData("tcp:host:")]
    [InlineData("tcp::5000")]
    [InlineData("tcp:[]:5000")]
    [InlineData("tcp:host:0")]
    [InlineData("tcp:host:65536")]
    [InlineData("tcp:host:-1")]
    [InlineData("tcp://host:5000")]
    [InlineData("tcp:a host:5000")]
    public void Wrong_address_is_refused(string text) =>
        Assert.Equal(LinkFault.BadSettings, Assert.Throws<LinkException>(() => LinkAddress.Parse(text)).Fault);

    [Fact]
    public void Any_text_is_read_or_refused_in_words() => Check.Sample(
        Gen.OneOf(Gen.String, Gen.String.Select(s => "tcp:" + s)),
        text =>
        {
            try
            {
                _ = LinkAddress.Parse(text);
                return true;
            }
            catch (LinkException e)
            {
                return e.Fault == LinkFault.BadSettings && e.Message.Contains("expected", StringComparison.Ordinal);
            }
        });
}

using System.Net;
using Acquire.Web.Security;

namespace Acquire.Web.Tests.Security;

public class LockoutTests
{
    private readonly FakeTimeProvider _time = new(new DateTimeOffset(2027, 2, 1, 18, 0, 0, TimeSpan.Zero));

    private static Peer Elsewhere(string address) => Peer.Of(IPAddress.Parse(address));

    [Fact]
    public void Waits_double_up_to_a_quarter_of_an_hour_and_are_forgotten_after_an_hour()
    {
        var (lockout, peer) = (new Lockout(_time), Elsewhere("192.0.2.7"));
        for (var n = 1; n < Lockout.Free; n++)
        {
            Assert.Equal(TimeSpan.Zero, lockout.Failed(peer));
            Assert.Null(lockout.Left(peer));
        }

        var waits = Enumerable.Range(0, 12).Select(_ => lockout.Failed(peer).TotalSeconds).ToList();
        Assert.Equal([1, 2, 4, 8, 16, 32, 64, 128, 256, 512, 900, 900], waits);
        Assert.Equal(Lockout.Most, lockout.Left(peer));
        _time.Advance(Lockout.Most);
        Assert.Null(lockout.Left(peer));
        _time.Advance(TimeSpan.FromHours(1));
        Assert.Equal(TimeSpan.Zero, lockout.Failed(peer));
    }

    [Fact]
    public void One_address_does_not_keep_out_another_and_who_shows_a_good_token_begins_anew()
    {
        var lockout = new Lockout(_time);
        var (bad, good) = (Elsewhere("192.0.2.7"), Elsewhere("192.0.2.8"));
        for (var n = 0; n < 10; n++)
        {
            lockout.Failed(bad);
        }

        Assert.NotNull(lockout.Left(bad));
        Assert.Null(lockout.Left(good));
        lockout.Passed(bad);
        Assert.Null(lockout.Left(bad));
    }

    [Fact]
    public void On_this_computer_the_wait_stays_short()
    {
        var lockout = new Lockout(_time);
        var waits = Enumerable.Range(0, 50).Select(_ => lockout.Failed(Peer.Of(IPAddress.IPv6Loopback)));
        Assert.Equal(Lockout.MostHere, waits.Max());
    }

    [Fact]
    public void A_hundred_thousand_addresses_fill_no_memory_and_free_nobody_who_waits()
    {
        var (lockout, waiting) = (new Lockout(_time), Elsewhere("192.0.2.7"));
        for (var n = 0; n < 20; n++)
        {
            lockout.Failed(waiting);
        }

        for (var n = 0; n < 100_000; n++)
        {
            lockout.Failed(new Peer($"address {n}", false));
            Assert.True(lockout.Known <= Lockout.MostPeers);
        }

        Assert.NotNull(lockout.Left(waiting));
    }

    /// <summary>
    /// Source: RFC 4291, 2.5.1: interface identifiers are 64 bits, so a net of one customer has at least that many addresses.
    /// </summary>
    [Theory]
    [InlineData("2001:db8:1:2:3:4:5:6", "2001:db8:1:2::/64", false)]
    [InlineData("2001:db8:1:2:ffff::1", "2001:db8:1:2::/64", false)]
    [InlineData("::ffff:192.0.2.7", "192.0.2.7", false)]
    [InlineData("192.0.2.7", "192.0.2.7", false)]
    [InlineData("127.0.0.1", "loopback", true)]
    [InlineData("127.9.9.9", "loopback", true)]
    [InlineData("::1", "loopback", true)]
    [InlineData("::ffff:127.0.0.1", "loopback", true)]
    public void A_peer_is_its_address_or_its_net(string address, string key, bool isHere) =>
        Assert.Equal(new Peer(key, isHere), Elsewhere(address));
}

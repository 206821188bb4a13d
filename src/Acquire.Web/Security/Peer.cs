using System.Net;
using System.Net.Sockets;

namespace Acquire.Web.Security;

/// <summary>Who is at the other end of a connection, as far as failures and requests are counted.</summary>
/// <param name="Key">
/// The address; of IPv6 the first 64 bits, since whoever has one address of such a net has them all.
/// </param>
/// <param name="IsHere">Whether it is this computer: loopback, or the socket in the data folder.</param>
internal readonly record struct Peer(string Key, bool IsHere)
{
    public static Peer Of(HttpContext context) => Of(context.Connection.RemoteIpAddress);

    public static Peer Of(IPAddress? address)
    {
        if (address is null)
        {
            return new Peer("socket", true);
        }

        var plain = address.IsIPv4MappedToIPv6 ? address.MapToIPv4() : address;
        if (IPAddress.IsLoopback(plain))
        {
            return new Peer("loopback", true);
        }

        if (plain.AddressFamily != AddressFamily.InterNetworkV6)
        {
            return new Peer(plain.ToString(), false);
        }

        var bytes = plain.GetAddressBytes();
        bytes.AsSpan(8).Clear();
        return new Peer($"{new IPAddress(bytes)}/64", false);
    }
}

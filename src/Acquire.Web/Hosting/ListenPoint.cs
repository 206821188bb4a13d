using System.Net;
using System.Security.Authentication;
using System.Text;
using Acquire.Web.Security.Certificates;
using Acquire.Web.Security.Tokens;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Server.Kestrel.Core;
using Microsoft.AspNetCore.Server.Kestrel.Https;

namespace Acquire.Web.Hosting;

/// <summary>One place where the service listens.</summary>
/// <param name="Place">An address and port of the network, or a socket in the file system.</param>
/// <param name="Certificate">Shown to who connects; null for plain HTTP, which does not leave the computer.</param>
internal sealed record ListenPoint(EndPoint Place, ServingCertificate? Certificate)
{
    /// <summary>Where it listens beyond loopback when only an address is given.</summary>
    private const int UsualPort = 8443;

    /// <summary>
    /// The longest path of a socket that every system takes, bytes. Source: unix(7), sun_path; 104 with its end on others.
    /// </summary>
    private const int LongestSocket = 103;

    private static readonly TimeSpan HandshakeWithin = TimeSpan.FromSeconds(5);

    /// <summary>The socket of a data folder; null where the system has none, or the folder's path is too long for one.</summary>
    public static string? SocketIn(string dataFolder)
    {
        var path = Path.Combine(dataFolder, "service.sock");
        return OperatingSystem.IsWindows() || Encoding.UTF8.GetByteCount(path) > LongestSocket ? null : path;
    }

    /// <summary>All places, that of <see cref="ServiceOptions.Url"/> first.</summary>
    /// <exception cref="BenchException">One cannot be read, or leads beyond this computer without a certificate or a token.</exception>
    public static ImmutableArray<ListenPoint> Of(ServiceOptions options, TimeProvider time)
    {
        if (options is { Certificate: null, CertificateKey: not null } or { Certificate: null, CertificatePasswordFrom: not null })
        {
            throw new BenchException("A key or its password goes with a certificate: name that too, with --certificate FILE.");
        }

        var certificate = new Lazy<ServingCertificate?>(() => CertificateOf(options, time.GetUtcNow()));
        var points = new List<ListenPoint> { OfUrl(options.Url, certificate) };
        points.AddRange(options.Listen.Select(given => OfAddress(given, certificate)));
        if (points.Find(p => p.IsBeyond) is { } beyond && !new TokenBook(options.DataFolder, time).HasLive())
        {
            throw new BenchException(
                $"Nobody could ask at {beyond.Place}: there is no token. Make one first, then start again: "
                + "acquire token add NAME --role read");
        }

        if (SocketIn(options.DataFolder) is { } socket)
        {
            points.Add(new ListenPoint(new System.Net.Sockets.UnixDomainSocketEndPoint(socket), null));
        }

        return [.. points];
    }

    /// <summary>The caller has the lock of the service: a socket that is there belongs to one that was killed.</summary>
    public void Bind(KestrelServerOptions kestrel)
    {
        if (Place is System.Net.Sockets.UnixDomainSocketEndPoint)
        {
            File.Delete(Place.ToString()!);
        }

        kestrel.Listen(Place, listen =>
        {
            if (Certificate is { } certificate)
            {
                _ = listen.UseHttps(new HttpsConnectionAdapterOptions
                {
                    ServerCertificate = certificate.Certificate,
                    ServerCertificateChain = certificate.Chain,
                    SslProtocols = SslProtocols.Tls12 | SslProtocols.Tls13,
                    HandshakeTimeout = HandshakeWithin,
                });
            }
        });
    }

    private bool IsBeyond => Place is IPEndPoint { Address: var address } && !IPAddress.IsLoopback(address);

    private static ListenPoint OfUrl(string url, Lazy<ServingCertificate?> certificate)
    {
        if (!Uri.TryCreate(url, UriKind.Absolute, out var uri) || uri.Scheme is not ("http" or "https") || uri.AbsolutePath != "/")
        {
            throw new BenchException(
                $"'{url}' is no URL to listen at; expected such as http://127.0.0.1:5080, port 0 for any that is free.");
        }

        var host = uri.Host.Trim('[', ']');
        var address = host == "localhost" || host.EndsWith(".localhost", StringComparison.Ordinal) ? IPAddress.Loopback
            : IPAddress.TryParse(host, out var numbers) ? numbers
            : throw new BenchException($"'{url}' names no address of this computer; expected localhost or an address in numbers.");
        return Checked(new IPEndPoint(address, uri.Port), uri.Scheme == "https", certificate);
    }

    private static ListenPoint OfAddress(string given, Lazy<ServingCertificate?> certificate)
    {
        var hasPort = IPEndPoint.TryParse(given, out var place)
            && (given.Contains("]:", StringComparison.Ordinal) || given.Count(c => c == ':') == 1);
        return place is null
            ? throw new BenchException(
                $"'{given}' is no address to listen at; expected an address of this computer in numbers, such as 192.168.1.20, "
                + "192.168.1.20:8443 or [fd00::20]:8443; 0.0.0.0 or [::] for all.")
            : Checked(hasPort ? place : new IPEndPoint(place.Address, UsualPort), !IPAddress.IsLoopback(place.Address), certificate);
    }

    private static ListenPoint Checked(IPEndPoint place, bool secure, Lazy<ServingCertificate?> certificate)
    {
        if (!secure && !IPAddress.IsLoopback(place.Address))
        {
            throw new BenchException(
                $"http://{place} would carry tokens and readings over the network for all to read. Listen there with --listen {place}, "
                + "which takes a certificate and tokens.");
        }

        return !secure ? new ListenPoint(place, null)
            : new ListenPoint(place, certificate.Value ?? throw new BenchException(
                $"To listen at {place} takes a certificate. Make one with: acquire serve cert. Or name yours with --certificate FILE."));
    }

    private static ServingCertificate? CertificateOf(ServiceOptions options, DateTimeOffset now)
    {
        var own = OwnCertificate.FileIn(options.DataFolder);
        return options.Certificate is { } file
            ? ServingCertificate.Read(new CertificateFiles(file, options.CertificateKey, options.CertificatePasswordFrom), now)
            : File.Exists(own) ? ServingCertificate.Read(new CertificateFiles(own, OwnCertificate.KeyIn(options.DataFolder), null), now)
            : null;
    }
}

using System.Net;
using System.Net.NetworkInformation;
using System.Net.Sockets;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using Acquire.Storage.Files;

namespace Acquire.Web.Security.Certificates;

/// <summary>
/// A certificate that this computer signs itself: for a small lab that has no authority to ask. Whoever connects compares its fingerprint
/// once.
/// </summary>
public static class OwnCertificate
{
    /// <summary>How long it is good for.</summary>
    private const int Years = 2;

    public static string FileIn(string dataFolder) => Path.Combine(dataFolder, "service-certificate.pem");

    public static string KeyIn(string dataFolder) => Path.Combine(dataFolder, "service-key.pem");

    /// <summary>The names and addresses by which this computer is reached now, those of loopback included.</summary>
    /// <param name="more">Further names or addresses, such as one that a router gives.</param>
    public static ImmutableArray<string> NamesOfThisComputer(IEnumerable<string> more)
    {
        var host = Dns.GetHostName();
        var local = host.Contains('.', StringComparison.Ordinal) ? [host] : new[] { host, host + ".local" };
        var addresses = NetworkInterface.GetAllNetworkInterfaces()
            .Where(i => i.OperationalStatus == OperationalStatus.Up)
            .SelectMany(i => i.GetIPProperties().UnicastAddresses)
            .Select(a => a.Address)
            .Where(a =>
                a.AddressFamily == AddressFamily.InterNetwork || (a.AddressFamily == AddressFamily.InterNetworkV6 && !a.IsIPv6LinkLocal))
            .Select(a => a.ToString());
        return
        [
            .. more.Concat(["localhost", .. local, "127.0.0.1", "::1", .. addresses])
                .Where(n => n.Length > 0)
                .Distinct(StringComparer.OrdinalIgnoreCase),
        ];
    }

    /// <summary>Makes it and writes certificate and key into the data folder, the key for the user alone to read.</summary>
    /// <param name="replace">Whether one that is there gives way.</param>
    /// <exception cref="BenchException">There is one, or a name cannot stand in a certificate.</exception>
    public static X509Certificate2 Make(string dataFolder, IReadOnlyCollection<string> names, bool replace, TimeProvider time)
    {
        var (file, keyFile) = (FileIn(dataFolder), KeyIn(dataFolder));
        if (!replace && (File.Exists(file) || File.Exists(keyFile)))
        {
            throw new BenchException(
                $"There is a certificate already: {file}. Replace it with --force; then everybody has to compare the new fingerprint.");
        }

        UserOnly.Folder(dataFolder);
        using var key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        var made = Request(key, names).CreateSelfSigned(time.GetUtcNow().AddMinutes(-5), time.GetUtcNow().AddYears(Years));

        // The key first: a certificate without its key would be worse than none.
        Write(keyFile, key.ExportPkcs8PrivateKeyPem());
        Write(file, made.ExportCertificatePem());
        return made;
    }

    /// <summary>SHA-256 of the whole certificate, as browsers and <c>openssl x509 -fingerprint -sha256</c> show it.</summary>
    public static string FingerprintOf(X509Certificate2 certificate) =>
        string.Join(':', certificate.GetCertHash(HashAlgorithmName.SHA256).Select(b => b.ToString("X2", CultureInfo.InvariantCulture)));

    /// <summary>A leaf for servers. Source of the extensions: RFC 5280, 4.2.1.3, 4.2.1.6, 4.2.1.9 and 4.2.1.12.</summary>
    private static CertificateRequest Request(ECDsa key, IReadOnlyCollection<string> names)
    {
        var request = new CertificateRequest("CN=Acquire on " + Plain(Dns.GetHostName()), key, HashAlgorithmName.SHA256);
        var alternatives = new SubjectAlternativeNameBuilder();
        foreach (var name in names)
        {
            if (IPAddress.TryParse(name, out var address))
            {
                alternatives.AddIpAddress(address);
            }
            else if (Uri.CheckHostName(name) == UriHostNameType.Dns)
            {
                alternatives.AddDnsName(name);
            }
            else
            {
                throw new BenchException(
                    $"'{name}' is neither the name of a computer nor an address; expected such as lab.example or 192.168.1.20.");
            }
        }

        request.CertificateExtensions.Add(new X509BasicConstraintsExtension(false, false, 0, critical: true));
        request.CertificateExtensions.Add(new X509KeyUsageExtension(X509KeyUsageFlags.DigitalSignature, critical: true));
        request.CertificateExtensions.Add(new X509EnhancedKeyUsageExtension([new Oid("1.3.6.1.5.5.7.3.1")], critical: false));
        request.CertificateExtensions.Add(new X509SubjectKeyIdentifierExtension(request.PublicKey, critical: false));
        request.CertificateExtensions.Add(alternatives.Build());
        return request;
    }

    /// <summary>What may stand in a distinguished name without quotes.</summary>
    private static string Plain(string name) => string.Concat(name.Where(c => char.IsAsciiLetterOrDigit(c) || c is '-' or '.'));

    private static void Write(string path, string text)
    {
        // A file that is there keeps its rights, so the new one takes its place.
        var beside = path + ".new";
        File.Delete(beside);
        using (var file = new StreamWriter(new FileStream(beside, UserOnly.Options(FileMode.CreateNew, FileAccess.Write, FileShare.None))))
        {
            file.Write(text);
        }

        File.Move(beside, path, overwrite: true);
    }
}

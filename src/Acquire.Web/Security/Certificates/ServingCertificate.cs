using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;

namespace Acquire.Web.Security.Certificates;

/// <summary>Which files the service's certificate comes from.</summary>
/// <param name="File">PEM, with its intermediate certificates behind it where there are any, or PKCS #12.</param>
/// <param name="Key">The key of a PEM certificate, where it does not stand in the same file.</param>
/// <param name="PasswordFrom">
/// A file whose first line is the password of the key; a password in the command line would be seen by all.
/// </param>
public sealed record CertificateFiles(string File, string? Key, string? PasswordFrom);

/// <summary>The certificate that the service shows, with its key.</summary>
/// <param name="Chain">The certificates that vouch for it, as its file has them.</param>
public sealed record ServingCertificate(X509Certificate2 Certificate, X509Certificate2Collection Chain)
{
    /// <summary>The names that it stands for, as a browser would ask.</summary>
    public ImmutableArray<string> Names =>
    [
        .. Certificate.Extensions.OfType<X509SubjectAlternativeNameExtension>()
            .SelectMany(e => e.EnumerateDnsNames().Concat(e.EnumerateIPAddresses().Select(a => a.ToString()))),
    ];

    /// <exception cref="BenchException">It cannot be read, has no key, or is not valid now.</exception>
    public static ServingCertificate Read(CertificateFiles files, DateTimeOffset now)
    {
        try
        {
            var found = IsPem(files.File) ? ReadPem(files) : ReadPkcs12(files);
            return !found.Certificate.HasPrivateKey
                ? throw new BenchException($"{files.File} has no private key; name its file with --key FILE.")
                : now < found.Certificate.NotBefore || now >= found.Certificate.NotAfter
                ? throw new BenchException(string.Create(
                    CultureInfo.InvariantCulture,
                    $"{files.File} is valid from {found.Certificate.NotBefore:yyyy-MM-dd} to {found.Certificate.NotAfter:yyyy-MM-dd}, "
                    + $"and it is {now:yyyy-MM-dd}. Get a new one, or make one with: acquire serve cert --force"))
                : found;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or CryptographicException or ArgumentException)
        {
            throw new BenchException(
                $"The certificate {files.File} cannot be used: {e.Message} Expected PEM with its key (there or by --key FILE) or PKCS #12, "
                + "and for a key under a password --password-from FILE.");
        }
    }

    private static bool IsPem(string file) =>
        System.IO.File.ReadAllText(file).Contains("-----BEGIN", StringComparison.Ordinal);

    private static ServingCertificate ReadPem(CertificateFiles files)
    {
        var key = files.Key ?? files.File;
        using var read = files.PasswordFrom is { } from
            ? X509Certificate2.CreateFromEncryptedPemFile(files.File, PasswordIn(from), key)
            : X509Certificate2.CreateFromPemFile(files.File, key);

        // A key that lives in memory alone does not serve on every system; one that came as PKCS #12 does.
        var whole = X509CertificateLoader.LoadPkcs12(read.Export(X509ContentType.Pkcs12), null);
        var chain = new X509Certificate2Collection();
        chain.ImportFromPemFile(files.File);
        return new ServingCertificate(whole, Others(chain, whole));
    }

    private static ServingCertificate ReadPkcs12(CertificateFiles files)
    {
        var all = X509CertificateLoader.LoadPkcs12CollectionFromFile(
            files.File, files.PasswordFrom is { } from ? PasswordIn(from) : null);
        var whole = all.FirstOrDefault(c => c.HasPrivateKey) ?? throw new BenchException($"{files.File} has no private key.");
        return new ServingCertificate(whole, Others(all, whole));
    }

    private static X509Certificate2Collection Others(X509Certificate2Collection all, X509Certificate2 own) =>
        [.. all.Where(c => c.Thumbprint != own.Thumbprint)];

    private static string PasswordIn(string file) => System.IO.File.ReadLines(file).FirstOrDefault() ?? "";
}
